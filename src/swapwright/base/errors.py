"""What can go wrong with what a person gave us, in one vocabulary."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Problem:
    """One fault in an input: where it stands, what was given, what is allowed.

    ``file`` is the name as the person gave it; ``line`` counts from 1, None where unknown;
    ``path`` is the dotted build path (``car.kerb_mass``); ``given`` is the text as written;
    ``allowed`` says in words what would be accepted; ``nearest`` is the likeliest valid spelling.
    """

    file: str
    path: str
    message: str
    given: str = ""
    allowed: str = ""
    nearest: str = ""
    line: int | None = None

    def __str__(self) -> str:
        """Return the problem as the one line a person reads."""
        where = self.file if self.line is None else f"{self.file}:{self.line}"
        place = f"{where}: {self.path}" if self.path else where
        parts = [f"{place}: {self.message}"]
        if self.given:
            parts.append(f"given: {self.given}")
        if self.allowed:
            parts.append(f"allowed: {self.allowed}")
        if self.nearest:
            parts.append(f"did you mean: {self.nearest}")
        return "; ".join(parts)


class SwapwrightError(Exception):
    """The base of every error this project raises on purpose."""


class InputError(SwapwrightError):
    """What a person gave cannot be used; carries every problem found at once."""

    def __init__(self, *problems: Problem) -> None:
        """Take one problem or many."""
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


class UnitError(SwapwrightError):
    """A text is not a quantity of the kind asked for; says what is allowed."""

    def __init__(self, message: str, allowed: str = "", nearest: str = "") -> None:
        """Keep the message, what would be accepted and the nearest accepted spelling."""
        self.message = message
        self.allowed = allowed
        self.nearest = nearest
        super().__init__(message)


class Missing(SwapwrightError):  # noqa: N818 - it reads as what it says
    """A figure or rule cannot be made: inputs the build does not give, or another reason.

    ``paths`` are the build paths that would cure it, most telling first; ``reason`` says in words
    what stands in the way where every input is there.
    """

    def __init__(self, *paths: str, reason: str = "") -> None:
        """Name the build paths that are missing, or the reason."""
        self.paths = paths
        self.reason = reason
        super().__init__(", ".join(paths) or reason)


class WorkingError(SwapwrightError):
    """A figure was asked for with the wrong names or units: a fault of ours, never the user's."""
