"""The few figures and verdicts a person keeps in view, with what they were before."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.finding import SEVERITY, Finding, Verdict
from swapwright.jobs.check import Checked
from swapwright.jobs.difference import Difference
from swapwright.jobs.figure_text import FigureText, Telling
from swapwright.jobs.stage import STAGES, Stage, findings_of

KEPT_IN_VIEW: tuple[tuple[str, str], ...] = (
    ("range, city", "range.city"),
    ("range, highway", "range.highway"),
    ("range, combined", "range.combined"),
    ("range, cold day", "range.combined_cold"),
    ("0-60 mph", "accel.0_60mph"),
    ("top speed", "top_speed.peak"),
    ("usable energy", "pack.usable_energy"),
    ("pack empty", "pack.voltage_empty"),
    ("pack full", "pack.voltage_full"),
    ("mass, loaded", "mass.loaded"),
    ("front axle", "weight.front_loaded"),
    ("rear axle", "weight.rear_loaded"),
)
"""Short labels and figures, in the order they stand."""


@dataclass(frozen=True)
class StripItem:
    """One figure kept in view, and its text in the saved revision where it has moved since."""

    label: str
    figure: FigureText
    before: str


@dataclass(frozen=True)
class StageState:
    """One stage: the worst open verdict in it, how many findings have it, and the first of them."""

    stage: Stage
    worst: Verdict | None
    count: int
    first: Finding | None


@dataclass(frozen=True)
class Strip:
    """All that is kept in view of a car."""

    items: tuple[StripItem, ...]
    stages: tuple[StageState, ...]


def strip_of(telling: Telling, changed: Difference) -> Strip:
    """Return what is kept in view of a car; ``changed`` is against its saved revision."""
    before = {each.id: each.before for each in changed.figures}
    told = telling.figures([figure_id for _, figure_id in KEPT_IN_VIEW])
    items = tuple(
        StripItem(label, told[figure_id], before.get(figure_id, ""))
        for label, figure_id in KEPT_IN_VIEW
    )
    return Strip(items, stage_states(telling.checked))


def stage_states(checked: Checked) -> tuple[StageState, ...]:
    """Return the worst verdict of each stage; one that is accepted or met does not count."""
    return tuple(_state(stage, checked) for stage in STAGES)


def _state(stage: Stage, checked: Checked) -> StageState:
    findings = findings_of(stage, checked.assessment.findings)
    counted = [each for each in findings if each.verdict != "met" and each.accepted is None]
    worst = min((each.verdict for each in counted), key=SEVERITY.index, default=None)
    if worst is None:
        return StageState(stage, "met" if findings else None, len(findings), None)
    having = [each for each in counted if each.verdict == worst]
    return StageState(stage, worst, len(having), having[0])
