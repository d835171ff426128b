"""Assess cars from their build files, and what that says as an exit status."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from swapwright.assess.assessment import Assessment
from swapwright.assess.solve import assess
from swapwright.base.errors import InputError, Problem
from swapwright.base.finding import Finding
from swapwright.build.load import MAX_BYTES, load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.opening import Opened, open_car
from swapwright.jobs.progress import Progress, unwatched
from swapwright.standards.version import DATA_VERSION

NOTHING_OPEN, OPEN, BAD_INPUT, STOP = 0, 1, 2, 3
"""Exit statuses: nothing left to do that the tool judges; a fix is open; bad input; a stop."""


@dataclass(frozen=True)
class Checked:
    """One car, opened and assessed."""

    opened: Opened
    assessment: Assessment


def check(path: Path, catalogue: Catalogue, today: date) -> Checked:
    """Assess the car of one build file; raise InputError with every problem in the file."""
    opened = open_car(path, catalogue)
    return Checked(opened, assess(opened.car, today=today))


def check_text(text: str, file: str, folder: Path, catalogue: Catalogue, today: date) -> Checked:
    """Assess the car of a build file's text; raise InputError with every problem in it.

    ``file`` is only the name it is reported under; tables kept in CSV files are looked for in
    ``folder``, by plain names.
    """
    size = len(text.encode("utf-8"))
    if size > MAX_BYTES:
        too_large = "too large for a build file"
        raise InputError(Problem(file, "", too_large, f"{size} bytes", f"up to {MAX_BYTES} bytes"))
    build = load_text(text, file, folder=folder)
    opened = Opened(file, build, resolve(build, catalogue, data_version=DATA_VERSION))
    return Checked(opened, assess(opened.car, today=today))


def check_all(
    paths: Sequence[Path], catalogue: Catalogue, today: date, progress: Progress = unwatched
) -> tuple[tuple[Checked, ...], tuple[InputError, ...]]:
    """Assess several cars; return those that could be, and what is wrong with the others."""
    checked: list[Checked] = []
    errors: list[InputError] = []
    for done, path in enumerate(paths):
        progress(done, len(paths))
        try:
            checked.append(check(path, catalogue, today))
        except InputError as error:
            errors.append(error)
    progress(len(paths), len(paths))
    return tuple(checked), tuple(errors)


def is_open(finding: Finding) -> bool:
    """Tell whether a finding still asks for work: a *fix*, or an *unknown* that could be one.

    A *fix* its owner has accepted does not.
    """
    if finding.verdict == "unknown":
        return finding.could_be in ("fix", "stop")
    return finding.verdict == "fix" and finding.accepted is None


def exit_status(assessments: Iterable[Assessment]) -> int:
    """Return the exit status of cars that could be read: the worst of them."""
    findings = [finding for each in assessments for finding in each.findings]
    if any(finding.verdict == "stop" for finding in findings):
        return STOP
    return OPEN if any(is_open(finding) for finding in findings) else NOTHING_OPEN
