"""A stage of a car: what is entered, what comes of it, what is found."""

from __future__ import annotations

from dataclasses import dataclass

from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response

from swapwright.base.finding import SEVERITY
from swapwright.jobs.figure_text import FigureText
from swapwright.jobs.form import Form, form_of
from swapwright.jobs.sheet_table import Table
from swapwright.jobs.stage import STAGES, Stage, findings_of, stage_called
from swapwright.jobs.system_tables import tables_of
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage, car_page, render
from swapwright.workbench.finding_row import FindingRow, finding_rows
from swapwright.workbench.picture import Picture, pictures_of
from swapwright.workbench.typed import Typed, TypedRow

RESULTS = {
    "donor": ("road.a", "road.b", "road.c", "tyre.radius"),
    "goals": (
        "range.at_goal_speed",
        "top_speed.sustained",
        "climb.speed",
        "start_grade.drive",
        "cost.total",
        "cost.driving",
    ),
    "drive": (
        "drive.peak_wheel_power",
        "accel.0_60mph",
        "accel.0_100kmh",
        "accel.quarter_mile",
        "top_speed.peak",
        "top_speed.sustained",
        "consumption.combined",
    ),
    "pack": (
        "pack.energy",
        "pack.usable_energy",
        "pack.cells",
        "pack.voltage_empty",
        "pack.voltage_nominal",
        "pack.voltage_full",
        "pack.max_working_voltage",
        "pack.resistance",
        "pack.mass",
    ),
    "high-voltage": ("pack.max_working_voltage", "people.glove_voltage", "people.meter_voltage"),
    "12-v": (
        "lv.worst_current",
        "lv.worst_power",
        "lv.lowest_voltage",
        "lv.parked_time",
        "lv.night_time",
        "lv.hazard_time",
        "lv.reserve_capacity",
        "brakes.vacuum_stops",
    ),
    "charging": (
        "charging.time",
        "charging.time_fast",
        "charging.input_current",
        "charging.drawn",
        "charging.cost",
        "charging.range_rate",
        "charging.pump_time",
        "charging.balance_time",
    ),
    "cooling": ("cooling.pack_warming_time", "cooling.cabin_heat"),
    "weight": (
        "mass.kerb",
        "mass.loaded",
        "mass.left",
        "weight.front_loaded",
        "weight.rear_loaded",
        "weight.cg_height",
        "weight.rollover",
        "brakes.equal_lock",
        "brakes.stop_60mph",
        "brakes.front_descent_temperature",
    ),
    "network": (),
}
"""The figures that stand beside each stage's entries."""


@dataclass(frozen=True)
class StageView:
    """One stage of one car."""

    stage: Stage
    number: int
    form: Form
    results: tuple[FigureText, ...]
    findings: tuple[FindingRow, ...]
    met: tuple[FindingRow, ...]
    pictures: tuple[Picture, ...]
    tables: tuple[Table, ...]
    opened: str
    typed: Typed | None
    typed_row: TypedRow | None = None

    @property
    def is_pressing(self) -> bool:
        """Tell whether something here must be put right before anything else is read."""
        first = self.findings[0].finding if self.findings else None
        return first is not None and first.verdict in ("stop", "fix") and not first.accepted


def stage(request: Request) -> Response:
    """Show one stage of a car."""
    page = car_page(request)
    return stage_page(request, page, request.path_params["stage"])


def stage_page(
    request: Request,
    page: CarPage,
    slug: str,
    typed: Typed | None = None,
    status: int = 200,
    *,
    opened: str = "",
    typed_row: TypedRow | None = None,
) -> Response:
    """Return a stage's page, with what could not be taken at its entry."""
    found = stage_called(slug)
    if found is None:
        raise HTTPException(404, "there is no such stage")
    opened = opened or request.query_params.get("at", "")
    view = _view(page, found, opened, typed, typed_row)
    here = "" if request.method == "GET" else links.stage_opened(page.name, slug, opened)
    return render(request, "stage.html", status=status, page=page, here=here, view=view)


def _view(
    page: CarPage, stage: Stage, opened: str, typed: Typed | None, typed_row: TypedRow | None
) -> StageView | None:
    checked, telling = page.checked, page.telling
    if checked is None or telling is None:
        return None
    assessment = checked.assessment
    findings = sorted(
        findings_of(stage, assessment.findings),
        key=lambda each: (each.accepted is not None, SEVERITY.index(each.verdict)),
    )
    rows = finding_rows(page.name, checked, findings, page.profile)
    ids = [each for each in RESULTS[stage.slug] if each in assessment.figures]
    return StageView(
        stage,
        STAGES.index(stage) + 1,
        form_of(stage, checked, page.profile),
        tuple(telling.figures(ids).values()),
        tuple(row for row in rows if row.finding.verdict != "met"),
        tuple(row for row in rows if row.finding.verdict == "met"),
        pictures_of(page, stage.slug),
        tables_of(stage.slug, checked, page.profile, page.settings.world),
        opened or ("" if typed is None else typed.path),
        typed,
        typed_row,
    )
