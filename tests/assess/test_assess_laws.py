"""Laws no car breaks: what more mass, wind, cold, cells, doubt or silence can and cannot do."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import date

import pytest
from build_paths import build_paths, ranges_of_entries
from example_cars import (
    FLAWED,
    SOUND,
    assessment_of,
    badness,
    by_rule,
    car_from,
    car_of,
    changed,
    text_of,
)
from hypothesis import given, settings
from hypothesis import strategies as st
from tables_of_rules import rows

from swapwright.assess.book import FigureBook
from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.quick import Quick
from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import assess, design, judge
from swapwright.assess.stages.cold import cold
from swapwright.assess.stages.match import match
from swapwright.base.figure import Value
from swapwright.base.finding import SEVERITY, Acceptance, Finding
from swapwright.build.car import Car

few = settings(max_examples=8, deadline=None, derandomize=True)
sound = st.sampled_from(SOUND)
ROUNDING = 1e-9
OF_WORDS = {
    case["rule"]
    for kind in ("words", "present", "layout", "asked")
    for case in rows("rule_cases", kind)
}


def quick_book(name: str, changes: dict[str, float]) -> FigureBook:
    """Return a car's figures after one city and one highway cycle and one sprint."""
    car = car_of(name)
    values = dict(car.values)
    for path, si in changes.items():
        unit = car.values[path].unit if path in car.values else "1"
        values[path] = Value(si, unit, "entered", path)
    book = FigureBook(replace(car, values=values), keep=False)
    design(book)
    Quick().drive(book)
    return book


@pytest.mark.property
@few
@given(name=sound, more=st.floats(1.0, 400.0))
def test_more_mass_never_adds_range(name: str, more: float):
    mass = "car.test_mass" if car_of(name).get("car.test_mass") else "car.kerb_mass"
    light = car_of(name).number(mass)
    before, after = (quick_book(name, {mass: kilograms}) for kilograms in (light, light + more))
    for figure in ("range.city", "range.highway"):
        assert after.number(figure) < before.number(figure)


@pytest.mark.property
@few
@given(name=sound, wind=st.floats(0.0, 10.0), more=st.floats(0.1, 10.0))
def test_more_headwind_never_adds_range(name: str, wind: float, more: float):
    before, after = (quick_book(name, {"conditions.headwind": w}) for w in (wind, wind + more))
    assert after.number("range.highway") < before.number("range.highway")


@pytest.mark.property
@few
@given(name=sound, coldest=st.floats(235.0, 270.0), warmer=st.floats(0.5, 25.0))
def test_colder_cells_never_give_more_power(name: str, coldest: float, warmer: float):
    books = []
    for day in (coldest, coldest + warmer):
        books.append(FigureBook(car_of(name).with_values({"conditions.cold_day": day}), keep=False))
        design(books[-1])
        match(books[-1])
        cold(books[-1])
    colder, warm = books
    for figure in ("cold.wheel_power", "cold.current_allowed", "cold.lasting_power"):
        assert colder.number(figure) <= warm.number(figure) * (1.0 + ROUNDING), figure


@pytest.mark.property
@few
@given(
    name=sound,
    what=st.sampled_from(("pack.modules_per_string", "pack.strings")),
    more=st.integers(1, 20),
)
def test_more_cells_never_lower_the_energy(name: str, what: str, more: int):
    car = car_of(name)
    few_cells, many_cells = (
        FigureBook(car.with_values({what: car.number(what) + n}), keep=False) for n in (0, more)
    )
    for book in (few_cells, many_cells):
        design(book)
    grows = ["pack.energy", "pack.mass", "pack.volume"]
    if what == "pack.strings":  # in series they may pass what the inverter reaches
        grows.append("pack.usable_energy")
    for figure in grows:
        assert many_cells.number(figure) > few_cells.number(figure), figure


NOT_AN_INPUT = ("goals.", "format", "car.name", "accepted", "pack.boxes", "car.engine_before")
JUDGED = (
    "car.",
    "conditions.",
    "auxiliaries.",
    "drive.",
    "pack.",
    "charging.",
    "hv.",
    "lv.",
    "brakes.booster",
    "brakes.reservoir",
    "brakes.cut_",
    "brakes.low_vacuum_lamp",
    "shop.",
)
DONE_WITHOUT = {
    "charging.voltage",
    "drive.gearbox",
    "drive.speed_limit",
    "drive.torque_limit",
    "pack.charge_to",
}
"""What a car may do without: left out, there is no such setting or part."""


HIGH_VOLTAGE_WORD = re.compile(
    r"hv\.(main_fuse|contactors)\.poles|hv\.interlock_loop\.opens"
    r"|hv\.(cable\[\d+\]|branch\[\d+\]\.cable)\.(insulation|standard|laid|colour)"
    r"|hv\.(cable|branch)\[\d+\]\.(from|to|load)|shop\.(gloves|meter\.category)"
)
TWELVE_VOLT_WORD = re.compile(r"lv\.(battery\.kind|conduit_colour)|brakes\.booster")
ON_OR_OFF = re.compile(r"lv\.load\[\d+\]\.duty\..*")
"""Left out, a load's duty says that the load is off in that case."""
OWNERS_WORD = ("drive.limited_by_pack", "drive.regen.limited_by_pack", "drive.gearbox.lockout")
"""What a rule may be met on alone; silence counts as no."""


def entries(name: str) -> list[str]:
    """Return what the owner wrote and the rules may rest on."""
    car = car_of(name)
    written = {path for path, value in car.values.items() if value.origin == "entered"}
    written |= {path for path in car.texts if path.startswith("car.")}
    written |= {path for path in car.texts if TWELVE_VOLT_WORD.fullmatch(path)}
    written |= {path for path in car.texts if HIGH_VOLTAGE_WORD.fullmatch(path)}
    written |= {
        path for path in car.part_names if path.startswith(("drive.", "pack.module", "hv."))
    }
    written |= {path for path in OWNERS_WORD if car.flags.get(path)}
    written |= {
        path
        for path in car.flags
        if path.startswith(("hv.", "shop.", "lv.", "brakes.low_vacuum_lamp"))
        and not path.endswith(".economiser")
    }
    return sorted(
        path
        for path in written
        if path.startswith(JUDGED)
        and not path.startswith(NOT_AN_INPUT)
        and path not in DONE_WITHOUT
        and not ON_OR_OFF.fullmatch(path)
        and not path.startswith("pack.module.cell")
    )


def shared_out() -> list[tuple[str, str]]:
    """Return every entry once, the cars taking turns."""
    paths = sorted({path for name in SOUND for path in entries(name)})
    return [
        (having[turn % len(having)], path)
        for turn, path in enumerate(paths)
        if (having := [name for name in SOUND if path in entries(name)])
    ]


def went_with_it(
    rule: str, path: str, before: dict[str, Finding], after: dict[str, Finding]
) -> bool:
    """Tell whether a verdict was of the thing left out itself, whose lack another rule tells."""
    return before[rule].subject == path and any(
        badness(after[other].verdict) > badness(finding.verdict)
        for other, finding in before.items()
        if other in after
    )


@pytest.mark.property
@pytest.mark.parametrize(("name", "path"), shared_out())
def test_a_missing_input_makes_no_verdict_better_unless_its_default_is_shown(name: str, path: str):
    silent = assess(car_from(changed(text_of(name), {path: None})))
    before, after = by_rule(assessment_of(name)), by_rule(silent)
    better = [
        rule
        for rule, finding in after.items()
        if rule in before
        and badness(finding.could_be or finding.verdict) < badness(before[rule].verdict)
        and not went_with_it(rule, path, before, after)
    ]
    assert not better or path in silent.assumed, better


@pytest.mark.property
@pytest.mark.parametrize(
    "text",
    [
        "",
        '[car]\nname = "x"\n',
        '[car]\nkerb_mass = "1000 kg"\ntyres = "165 R13 82T"\nwheelbase = "2.4 m"\n',
        '[pack]\nmodule = "nmc-module-8s1p-60ah"\nmodules_per_string = 12\n',
        '[pack]\nmodule = "nmc-module-8s1p-60ah"\n',
        '[pack]\ncell = "lfp-prismatic-280ah"\nseries = 16\n',
        '[drive]\nmotor = "pm-interior-120kw"\n',
        '[drive]\nmotor = "dc-series-55kw"\ninverter = "chopper-144v-500a"\n',
        '[drive]\ninverter = "inverter-400v-300a"\nfinal_drive = 4.1\n',
        '[drive.second]\nmotor = "pm-interior-85kw"\n',
        '[goals]\ntop_speed = "100 km/h"\nclimb = { grade = "6 %" }\nrange = { at = "80 km/h" }\n',
        '[charging]\ncharger = "charger-6k6-400v"\nvoltage = "400 V"\n',
        '[[mass]]\nadd = "pack"\nmass = "200 kg"\n',
    ],
    ids=lambda text: text.replace("\n", " ")[:50] or "nothing at all",
)
def test_a_half_empty_build_is_assessed_and_asks_for_what_it_lacks(text: str):
    assessment = assess(car_from(f"format = 1\n{text}"))
    unknowns = [finding for finding in assessment.findings if finding.verdict == "unknown"]
    assert unknowns
    for finding in unknowns:
        assert finding.could_be in SEVERITY
        assert finding.needs, finding.rule
        for need in finding.needs:
            assert need.replace("[]", "[0]") in build_paths(), (finding.rule, need)
    for figure_id, needs in assessment.missing.items():
        assert needs, figure_id


def without(name: str, sections: tuple[str, ...]) -> str:
    """Return a build file less some of its sections."""
    kept, keeping = [], True
    for line in text_of(name).splitlines():
        if line.startswith("["):
            keeping = line.strip("[ ").split("]")[0].split(".")[0] not in sections
        if keeping:
            kept.append(line)
    return "\n".join(kept)


@pytest.mark.property
@settings(max_examples=25, deadline=None, derandomize=True)
@given(
    name=st.sampled_from((*SOUND, FLAWED)),
    lost=st.sets(
        st.sampled_from(("car", "goals", "drive", "pack", "mass", "charging", "auxiliaries")),
        min_size=1,
    ),
)
def test_a_car_with_whole_sections_lost_is_still_assessed(name: str, lost: set[str]):
    assessment = assess(car_from(without(name, tuple(lost))))
    before = by_rule(assessment_of(name))
    for rule, finding in by_rule(assessment).items():
        if "mass" not in lost and rule in before and finding.verdict in ("met", "watch"):
            assert before[rule].verdict not in ("stop",), rule


def every_car_has() -> list[str]:
    """Return the entries with a range that every example car has."""
    cars = [car_of(name) for name in (*SOUND, FLAWED)]
    return sorted(path for path in ranges_of_entries() if all(path in car.values for car in cars))


@pytest.mark.property
@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    name=st.sampled_from((*SOUND, FLAWED)),
    path=st.sampled_from(every_car_has()),
    end=st.sampled_from((0, 1)),
)
def test_a_car_with_an_absurd_entry_is_assessed_without_an_absurd_number(name, path, end):
    car = car_of(name)
    absurd = replace(car.values[path], si=ranges_of_entries()[path][end], low=None, high=None)
    changed_car = replace(car, values={**car.values, path: absurd}, revision=f"{path} {end}")
    assessment = assess(changed_car)
    assert all(math.isfinite(figure.value.si) for figure in assessment.figures.values())
    for finding in assessment.findings:
        judged_by_words = finding.rule in OF_WORDS
        is_out_of_reach = finding.rule.startswith("goals.zero_to_") and finding.verdict == "fix"
        assert (
            finding.verdict == "unknown"
            or finding.value is not None
            or judged_by_words
            or is_out_of_reach
        )


@pytest.mark.property
@pytest.mark.parametrize("name", SOUND)
def test_a_car_without_an_uncertain_input_has_no_band(name: str):
    car = car_of(name)
    sure = car.with_values({path: car.number(path) for path in car.uncertain()})
    assessment = assess(sure)
    assert assessment_of(name).swings
    assert not assessment.swings
    assert all(figure.value.low is None for figure in assessment.figures.values())


@pytest.mark.property
def test_the_same_car_is_always_told_the_same():
    once, again = assess(car_of("bakery")), assessment_of("bakery")
    assert once.findings == again.findings
    assert {key: figure.value for key, figure in once.figures.items()} == {
        key: figure.value for key, figure in again.figures.items()
    }
    assert once.curves == again.curves
    assert once.swings == again.swings


@pytest.mark.property
@given(
    limit=st.floats(1.0, 1e4),
    one=st.floats(-2e4, 2e4),
    other=st.floats(-2e4, 2e4),
    sense=st.sampled_from(("at_most", "at_least")),
    outside=st.sampled_from(("stop", "fix", "watch")),
)
def test_a_value_further_out_is_never_judged_better(limit, one, other, sense, outside):
    inner, outer = sorted((one, other), reverse=sense == "at_least")
    verdicts = [
        judged(
            "rule",
            "car",
            Value(si, "V", "entered", "v"),
            Value(limit, "V", "entered", "l"),
            sense=sense,
            outside=outside,
            text="t",
            remedy="r",
            sources=(),
        ).verdict
        for si in (inner, outer)
    ]
    assert badness(verdicts[0]) <= badness(verdicts[1])


def ruled(verdict: str, *acceptances: Acceptance, today: date | None = None) -> Finding:
    """Return the finding of a rule that always gives a verdict, on a car with acceptances."""
    rule = Rule("a.rule", "car", "stop", lambda _: [Finding("a.rule", "car", verdict, "t")], ())
    car = Car("", {}, {}, {}, {}, {}, {}, {}, accepted=acceptances)
    ((finding,), _, _) = judge(Context(car, FigureBook(car), today), (rule,))
    return finding


def acceptance(until: date | None = None, rule: str = "a.rule") -> Acceptance:
    return Acceptance(rule, "known", "owner", date(2026, 1, 1), until)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("verdict", "is_accepted"),
    [("stop", False), ("fix", True), ("watch", True), ("unknown", False), ("met", False)],
)
def test_an_owner_can_accept_a_fix_or_a_watch_and_never_a_stop(verdict: str, is_accepted: bool):
    finding = ruled(verdict, acceptance())
    assert finding.verdict == verdict
    assert (finding.accepted is not None) == is_accepted


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("until", "today", "is_accepted"),
    [
        (date(2026, 6, 1), date(2026, 5, 31), True),
        (date(2026, 6, 1), date(2026, 6, 1), True),
        (date(2026, 6, 1), date(2026, 6, 2), False),
        (date(2026, 6, 1), None, True),
        (None, date(2036, 1, 1), True),
    ],
    ids=["before its end", "on its last day", "after its end", "no day given", "no end"],
)
def test_an_acceptance_ends_with_its_last_day(until, today, is_accepted: bool):
    finding = ruled("fix", acceptance(until), today=today)
    assert finding.verdict == "fix"
    assert (finding.accepted is not None) == is_accepted


@pytest.mark.arithmetic
def test_an_acceptance_counts_for_its_own_rule_only():
    assert ruled("fix", acceptance(rule="another.rule")).accepted is None
    renewed = ruled("fix", acceptance(date(2026, 2, 1)), acceptance(), today=date(2026, 3, 1))
    assert renewed.accepted is not None


@pytest.mark.property
@pytest.mark.parametrize("name", (*SOUND, FLAWED))
def test_every_rule_is_run_or_says_why_not(name: str):
    assessment = assessment_of(name)
    skipped = {line.split(":")[0] for line in assessment.skipped}
    spoken = set(by_rule(assessment))
    assert spoken | (skipped & {rule.id for rule in RULES}) == {rule.id for rule in RULES}
    assert len(spoken) == assessment.rules_run
    assert all(line.split(":")[1].strip() for line in assessment.skipped)
    order = [SEVERITY.index(finding.verdict) for finding in assessment.findings]
    assert order == sorted(order)
