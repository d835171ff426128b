"""A fast charge on the hot day, on a plate and without one; and ratings on hotter coolant."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from example_cars import FAST, SOUND, assessment_of, by_rule, car_from, changed, text_of
from scipy.integrate import solve_ivp

from swapwright.assess.assessment import Assessment
from swapwright.assess.book import FigureBook
from swapwright.assess.charge_runs import ChargeRun
from swapwright.assess.circuit.circuit import circuit
from swapwright.assess.solve import assess, before_circuit
from swapwright.assess.stages.charge import charge
from swapwright.assess.stages.charge_fast import STATION_SIDE
from swapwright.assess.stages.charge_time import run_charge
from swapwright.assess.stages.cooling import cooling
from swapwright.assess.stages.cooling_fast import CASE
from swapwright.base.figure import SimulatedWorking
from swapwright.simulate.charge import CHARGE_COLUMNS

STRONG = {"charging.station.current": "200 A", "charging.station.power": "75 kW"}
PLATE = "cooling.pack_plate"
HOT_CELL, HOT_TIME = "charging.hottest_cell_fast_hot", "charging.time_fast_hot"
HELD, UNHELD = "charging.fast_held_hot", "charging.fast_unheld_hot"
RULES = (
    "charging.fast_current_hot",
    "cooling.fast_charge",
    "cooling.fast_charge_cells",
    "cooling.coolant_hot_fast",
)


@cache
def told(name: str, changes: tuple[tuple[str, str | None], ...]) -> Assessment:
    return assess(car_from(changed(text_of(name), dict(changes))))


def charged(name: str, **changes: str | None) -> Assessment:
    """Return a car at a station; of a path a double underscore stands for the dot."""
    given = {key.replace("__", "."): to for key, to in changes.items()}
    return told(name, tuple({**FAST, **given}.items()))


def si(assessment: Assessment, figure_id: str) -> float:
    return assessment.figures[figure_id].value.si


def run_of(name: str, changes: dict[str, str | None]) -> tuple[FigureBook, ChargeRun]:
    book = FigureBook(car_from(changed(text_of(name), {**FAST, **changes})))
    before_circuit(book)
    circuit(book)
    charge(book)
    cooling(book)
    case = replace(CASE, path=f"{PLATE}.pack_path", other_end=f"{PLATE}.around_fast")
    return book, run_charge(book, case, STATION_SIDE, 0.0)


def integrated(book: FigureBook, run: ChargeRun, stores: float) -> tuple[float, float]:
    """Return cells and coolant K at the end by an integrator that shares nothing with the run.

    Cells and coolant are two lumps with a plate between them; ``stores`` J/K is the coolant's. The
    currents are the run's own; resistances are read from the sheet's tables at every moment.
    """
    maps = [book.car.map(f"pack.cell.{part}") for part in ("r0", "r1", "r2")]
    c1, c2 = book.number("pack.cell.c1"), book.number("pack.cell.c2")
    entropic = book.number("pack.cell.entropic")
    cells, parallel = run.pack.series * run.pack.parallel, run.pack.parallel
    joints, capacity = run.pack.joint_resistance, run.pack.capacity
    takes = book.number("pack.cell_mass") * book.number("pack.cell.specific_heat")
    plate = book.number("pack.plate_path")
    radiator = book.number(f"{PLATE}.effectiveness") * book.number(f"{PLATE}.capacity_rate")
    around = book.number(f"{PLATE}.around_fast")
    times = run.trace[:, CHARGE_COLUMNS.index("time")]
    currents = run.trace[:, CHARGE_COLUMNS.index("current")] / parallel

    def slope(now, state):
        z, v1, v2, cell, coolant = state
        amps = currents[min(int(np.searchsorted(times, now, side="left")), len(times) - 1)]
        r0, r1, r2 = (each.at(cell, z) for each in maps)
        heat = amps**2 * (r0 + joints) + v1**2 / r1 + v2**2 / r2 + amps * cell * entropic
        out = plate * (cell - coolant)
        return (
            amps / capacity,
            (amps - v1 / r1) / c1,
            (amps - v2 / r2) / c2,
            (cells * heat - out) / takes,
            (out - radiator * (coolant - around)) / stores,
        )

    air = run.given.ambient
    start = (run.given.start, 0.0, 0.0, air, air)
    done = solve_ivp(slope, (0.0, times[-1]), start, "LSODA", max_step=15.0, rtol=1e-7)
    return float(np.max(done.y[3])), float(np.max(done.y[4]))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "changes",
    [
        {},
        {**STRONG, "pack.plate_path": "60 W/K"},
        {
            "cooling.loop[0].parts": '["pump", "charger", "inverter", "motor", "radiator"]',
            "cooling.loop[1].parts": '["pump", "dc-dc", "pack plate", "radiator"]',
        },
    ],
    ids=["the van", "a poor plate", "the dc-dc converter in the loop"],
)
def test_cells_and_coolant_of_a_fast_charge_are_those_of_an_integrator_of_two_lumps(changes):
    """Within a tenth of the rise: coolant that stores heat too only ends cooler, and a little."""
    book, run = run_of("parcel-round", changes)
    hottest, coolant = book.number(HOT_CELL), book.number(f"{PLATE}.fast_end")
    air = run.given.ambient
    volume = book.number("cooling.loop[1].volume")
    real = volume * book.number(f"{PLATE}.density") * book.number(f"{PLATE}.specific_heat")
    light, light_coolant = integrated(book, run, real / 20.0)
    assert hottest - air > 3.0
    assert hottest == pytest.approx(light, abs=0.02 * (hottest - air))
    assert coolant == pytest.approx(light_coolant, abs=0.02 * (coolant - air))
    heavy, heavy_coolant = integrated(book, run, real)
    for at_once, in_time in ((light, heavy), (light_coolant, heavy_coolant)):
        assert 0.0 <= at_once - in_time < 0.1 * (at_once - air)


@pytest.mark.arithmetic
def test_heat_in_a_fast_charge_stays_in_the_cells_or_leaves_over_their_plate():
    book, run = run_of("parcel-round", {})
    made = run.ledger.ohmic + run.ledger.polarisation
    assert book.number("cooling.pack_fast") == pytest.approx(made / run.ledger.time)
    warm = run.trace[:, CHARGE_COLUMNS.index("temperature")]
    takes = book.number("pack.cell_mass") * book.number("pack.cell.specific_heat")
    before = np.concatenate(([run.given.ambient], warm[:-1]))
    step = np.diff(run.trace[:, 0], prepend=0.0)
    left = run.given.conductance * float(np.sum((before - run.given.around) * step))
    amps = run.trace[:, CHARGE_COLUMNS.index("current")]
    series = book.number("pack.series_cells")
    entropic = book.number("pack.cell.entropic") * series * float(np.sum(amps * before * step))
    kept = takes * (warm[-1] - run.given.ambient)
    assert kept + left == pytest.approx(made + entropic, rel=1e-6)


@pytest.mark.arithmetic
def test_a_mild_enough_hot_day_holds_no_fast_charge_back():
    found = charged("ridgeway")
    assert si(found, HELD) == si(found, UNHELD)
    assert by_rule(found)["cooling.fast_charge"].verdict == "met"
    assert by_rule(found)["cooling.fast_charge_cells"].verdict == "met"
    working = found.figures[HOT_TIME].working
    assert isinstance(working, SimulatedWorking)
    assert abs(working.deviation) < 0.1


@pytest.mark.arithmetic
def test_on_a_hotter_day_warm_cells_hold_a_fast_charge_back_and_the_finding_says_to_what():
    mild, hot = charged("ridgeway"), charged("ridgeway", conditions__hot_day="42 degC")
    finding = by_rule(hot)["cooling.fast_charge"]
    assert finding.verdict == "watch"
    assert finding.value is not None
    assert finding.limit is not None
    assert finding.value.si == si(hot, HELD) < finding.limit.si == si(hot, UNHELD)
    derate = car_from(text_of("ridgeway")).line("pack.cell.charge_derate")
    rated = si(hot, "pack.charge_continuous")
    assert si(hot, HELD) >= rated * derate.at(si(hot, HOT_CELL)) - 1e-9
    assert si(hot, "charging.fast_share_hot") == pytest.approx(derate.at(si(hot, HOT_CELL)))
    assert si(hot, HOT_TIME) > si(mild, HOT_TIME)
    working = hot.figures[HOT_TIME].working
    assert isinstance(working, SimulatedWorking)
    assert abs(working.deviation) < 0.1


@pytest.mark.arithmetic
def test_without_a_monitor_a_station_forces_hot_cells_and_that_stops():
    given = {"conditions__hot_day": "44 degC", "charging__station__current": "60 A"}
    held = charged("ridgeway", **given)
    alone = charged("ridgeway", **given, charging__limited_by_pack="false")
    assert by_rule(held)["charging.fast_current_hot"].verdict == "met"
    assert by_rule(alone)["charging.fast_current_hot"].verdict == "stop"
    assert si(alone, "charging.fast_current_hot") == 60.0


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("said", "needs"), [("false", ()), (None, ("charging.limited_by_pack",))], ids=["no", "unsaid"]
)
def test_how_hot_cells_get_of_a_current_forced_into_them_is_left_open(said, needs):
    strong = {"charging__station__current": "200 A", "charging__station__power": "75 kW"}
    held = by_rule(charged("parcel-round", **strong))
    forced = by_rule(charged("parcel-round", **strong, charging__limited_by_pack=said))
    for rule in ("cooling.fast_charge", "cooling.fast_charge_cells", "cooling.coolant_hot_fast"):
        assert held[rule].verdict == "met"
        assert forced[rule].verdict == "unknown"
        assert forced[rule].needs == needs
    cool = {**strong, "cooling.loop[1].max_temperature": "36 degC"}
    passed = by_rule(charged("parcel-round", **cool, charging__limited_by_pack=said))
    assert passed["cooling.coolant_hot_fast"].verdict == "fix"


@pytest.mark.arithmetic
def test_without_a_monitor_a_station_nobody_described_leaves_hot_cells_open():
    for monitored, verdict in (("true", None), ("false", "unknown")):
        changes = {key: to for key, to in FAST.items() if "station" not in key}
        found = told("ridgeway", tuple({**changes, "charging.limited_by_pack": monitored}.items()))
        hot = by_rule(found).get("charging.fast_current_hot")
        assert (hot and hot.verdict) == verdict
    assert hot is not None
    assert hot.needs == ("charging.station.current", "charging.station.voltage")


@pytest.mark.arithmetic
def test_a_fast_charge_begun_above_its_end_names_the_entry_that_does_it():
    found = by_rule(charged("parcel-round", charging__from="85 %"))
    assert "charging.from" in found["cooling.fast_charge"].text


@pytest.mark.arithmetic
def test_cells_too_hot_to_be_charged_at_all_take_nothing_and_only_a_monitor_keeps_it_so():
    hot = {"conditions__hot_day": "56 degC"}
    for monitored, verdict in (("true", "met"), ("false", "stop")):
        found = charged("ridgeway", **hot, charging__limited_by_pack=monitored)
        assert si(found, "charging.fast_current_allowed_hot") == 0.0
        assert by_rule(found)["charging.fast_current_hot"].verdict == verdict
        assert by_rule(found)["cooling.fast_charge"].verdict == "unknown"
        assert "take no current" in found.missing[HOT_TIME][0]


@pytest.mark.property
@pytest.mark.parametrize(
    ("path", "better", "worse"),
    [
        ("pack.plate_path", "300 W/K", "40 W/K"),
        ("cooling.loop[1].radiator.conductance", "300 W/K", "60 W/K"),
        ("conditions.hot_day", "30 degC", "40 degC"),
        ("charging.station.current", "60 A", "100 A"),
    ],
    ids=["a closer plate", "a larger radiator", "cooler air", "a weaker station"],
)
def test_what_should_cool_the_cells_of_a_fast_charge_does(path: str, better: str, worse: str):
    cool, hot = (si(charged("parcel-round", **{path: to}), HOT_CELL) for to in (better, worse))
    assert cool < hot


@pytest.mark.arithmetic
def test_a_pack_on_a_plate_nobody_knows_leaves_its_fast_charge_open():
    found = by_rule(charged("parcel-round", pack__plate_path=None))
    for rule in RULES:
        assert found[rule].verdict == "unknown"
        assert found[rule].needs == ("pack.plate_path",)


@pytest.mark.arithmetic
def test_a_loop_that_does_not_say_its_parts_may_be_the_packs():
    found = by_rule(charged("parcel-round", **{"cooling.loop[1].parts": None}))
    for rule in RULES:
        assert found[rule].verdict == "unknown"
        assert found[rule].needs == ("cooling.loop[1].parts",)


@pytest.mark.arithmetic
def test_of_two_loops_through_the_pack_the_one_that_gives_least_counts():
    parts = '["pump", "inverter", "motor", "pack plate", "radiator"]'
    both = charged(
        "parcel-round",
        **{"cooling.loop[0].parts": parts, "cooling.loop[0].radiator.conductance": "60 W/K"},
    )
    poor, good = (si(both, f"cooling.{loop}.pack_path") for loop in ("drive", "pack_plate"))
    assert poor < good
    assert si(both, HOT_CELL) > si(charged("parcel-round"), HOT_CELL)
    assert {"cooling.drive.fast_end", "cooling.pack_plate.fast_end"} <= set(both.figures)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", SOUND)
def test_a_car_without_a_station_has_no_fast_charge_and_is_told_so(name: str):
    found = assessment_of(name)
    assert not any(figure.startswith("charging.time_fast") for figure in found.figures)
    assert not set(RULES) & set(by_rule(found))
    assert any(line.startswith("cooling.fast_charge: ") for line in found.skipped)


@pytest.mark.arithmetic
def test_the_chart_shows_cells_above_their_coolant_and_both_limits():
    curve = charged("parcel-round").curves["cooling.fast"]
    cells, coolant = curve.ys[0].points, curve.ys[1].points
    assert all(a >= b for a, b in zip(cells, coolant, strict=True) if a and b)
    assert max(point for point in coolant if point) == pytest.approx(
        si(charged("parcel-round"), f"{PLATE}.fast_end"), abs=0.1
    )
    assert {mark.label for mark in curve.marks} == {"limit, cells", "limit, pack plate loop"}


@pytest.mark.arithmetic
def test_coolant_hotter_than_a_rating_was_given_at_leaves_less_of_it():
    sound = assessment_of("ridgeway")
    rated = si(sound, "cooling.drive.power")
    assert by_rule(sound)["cooling.rating"].verdict == "met"
    assert si(sound, "cooling.drive.lasting_motor") == pytest.approx(rated)
    cool = told("ridgeway", (("drive.motor.rated_coolant", "30 degC"),))
    judged = [each for each in cool.findings if each.rule == "cooling.rating"]
    assert {each.subject: each.verdict for each in judged} == {
        "drive.inverter": "met",
        "drive.motor": "watch",
    }
    assert 0.8 * rated < si(cool, "cooling.drive.lasting_motor") < rated


@pytest.mark.arithmetic
def test_a_sheet_that_names_no_coolant_is_taken_at_60_degrees_and_listed_as_assumed():
    parts = '["pump", "inverter", "motor", "radiator"]'
    found = told("bakery", (("cooling.loop[0].parts", parts), ("cooling.by_air", None)))
    assert "drive.motor.rated_coolant" in found.assumed
    assert "drive.motor.rated_coolant" not in assessment_of("bakery").assumed
    judged = {each.subject: each for each in found.findings if each.rule == "cooling.rating"}
    assert judged["drive.motor"].limit is not None
    assert judged["drive.motor"].limit.si == pytest.approx(333.15)
    assert "drive.motor.rated_coolant" in judged["drive.motor"].assumed


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "changes",
    [
        {"drive.inverter.rated_coolant": "90 degC", "drive.inverter.max_temperature": "85 degC"},
        {"drive.inverter.max_temperature": "40 degC", "conditions.hot_day": "45 degC"},
    ],
    ids=["rated on coolant above its own limit", "a limit below the air"],
)
def test_a_part_whose_limit_leaves_no_room_above_its_coolant_has_no_rating_that_lasts(changes):
    found = told("ridgeway", tuple(changes.items()))
    assert "cooling.drive.lasting_inverter" not in found.figures
    judged = {each.subject: each for each in found.findings if each.rule == "cooling.rating"}
    assert judged["drive.inverter"].verdict == "unknown"
    assert "drive.inverter.max_temperature" in judged["drive.inverter"].text
    assert judged["drive.motor"].verdict == "met"
