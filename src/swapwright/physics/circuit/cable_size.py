"""The lightest cable that passes every check asked of it, and what the next thinner one fails."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class CableSizeResult:
    """The size found, m^2; None where none passes.

    ``limited_by`` names the checks the next thinner size fails, in their order; with no size
    found, those the thickest fails; none where the thinnest passes.
    """

    area: float | None
    limited_by: tuple[str, ...]


def lightest_cable(
    *, sizes: Sequence[float], checks: Mapping[str, Callable[[float], bool]]
) -> CableSizeResult:
    """Return the thinnest size that passes every check, and what limits it.

    sizes: to choose from, in any order [m^2]
    checks: what a size must pass, by name; one that lacks its numbers is not passed
    result: size [m^2] and the names of what failed before it
    """
    limited_by: tuple[str, ...] = ()
    for area in sorted(sizes):
        failed = tuple(name for name, passes in checks.items() if not passes(area))
        if not failed:
            return CableSizeResult(area, limited_by)
        limited_by = failed
    return CableSizeResult(None, limited_by)
