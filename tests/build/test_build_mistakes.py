"""Mistakes a mechanic makes in the file: what was written, where, what is allowed or meant."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError, Problem
from swapwright.base.kinds import KINDS
from swapwright.base.quantity import parse
from swapwright.build.load import load_text
from swapwright.build.shape import rows_by_path


def problems_of(text: str) -> tuple[Problem, ...]:
    try:
        load_text(f"format = 1\n{text}\n", "car.toml")
    except InputError as error:
        return error.problems
    return ()


def entry(path: str, written: str) -> str:
    """Return a file that says one thing; a row of a list has its name besides."""
    section, _, key = path.rpartition(".")
    head, brackets, below = section.partition("[]")
    if not brackets:
        return f"[{section}]\n{key} = {written}"
    if key == "serial":
        return f"[[{head}]]\n{key} = {written}"
    first = "serial" if head == "pack.tested" else "name"
    at = f"{below[1:]}." if below else ""
    return f'[[{head}]]\n{first} = "x"\n{at}{key} = {written}'


GARBLED = [
    ("lv.voltage", '"12 vv"', "12 V"),
    ("lv.voltage", "12", "12 V"),
    ("lv.sleep_current", '"9"', "9 mA"),
    ("lv.battery.capacity", '"20 A/h"', "20 Ah"),
    ("lv.load[].current", '"3,5 A"', "3.5 A"),
    ("lv.load[].current", '"3.5A max"', "3.5 A"),
    ("lv.load[].current", '"about 3 A"', "3 A"),
    ("lv.load[].wire", '"2.5mm"', "2.5 mm^2"),
    ("lv.load[].wire", '"14 gauge"', "14 AWG"),
    ("lv.load[].wire", "2.5", "2.5 mm^2"),
    ("lv.load[].fuse", '"20 amps fuse"', "20 amps"),
    ("lv.load[].duty.day", "80", "80 %"),
    ("charging.from", "20", "20 %"),
    ("charging.pilot", "53", "53 %"),
    ("charging.tariff", '"0.30 EUR/kWh"', "0.30 /kWh"),
    ("charging.tariff", '"30 ct/kWh"', "0.3 /kWh"),
    ("charging.tariff", '"€0.30 /kWh"', "0.30 /kWh"),
    ("charging.tariff", '"0,30 /kWh"', "0.30 /kWh"),
    ("charging.proximity", '"220R"', "220 ohm"),
    ("charging.proximity", '"1k5"', "1.5 kohm"),
    ("charging.supply.phases", '"1 phase"', "1"),
    ("cooling.loop[].flow", '"8 l/m"', "8 L/min"),
    ("cooling.loop[].max_temperature", '"60 °"', "60 degC"),
    ("cooling.loop[].coolant.share", '"50/50"', "50 %"),
    ("cooling.loop[].hose.bore", "'3/4\"'", "0.75 in"),
    ("cooling.loop[].hose.bore", '"1 1/4 in"', "1.25 in"),
    ("brakes.cut_in", '"0.55 bar"', "-0.55 bar"),
    ("brakes.cut_in", '"-0.55"', "-0.55 bar"),
    ("brakes.front_share", '"70/30"', "70 %"),
    ("brakes.front_rotor", '"5,6 kg"', "5.6 kg"),
    ("brakes.parking_grade", "20", "20 %"),
    ("network.bus[].bit_rate", "500", "500 kbit/s"),
    ("network.message[].identifier", '"0x110"', "0x110 (without quotes)"),
    ("network.message[].identifier", '"110h"', "0x110 (without quotes)"),
    ("network.message[].period", "10", "10 ms"),
    ("cost.part[].price", '"2900 EUR"', "2900"),
    ("cost.part[].price", '"$2900"', "2900"),
    ("cost.part[].price", '"2.900,00"', "2900.00"),
    ("cost.part[].price", '"2.900"', "2900"),
    ("cost.part[].lead_time", "6", "6 d or 6 wk"),
    ("cost.part[].lead_time", '"6-8 weeks"', "6..8 weeks"),
    ("cost.part[].count", '"12 pcs"', "12"),
    ("cost.work", "260", "260 h"),
    ("cost.work_rate", '"55 EUR/h"', "55 /h"),
    ("cost.set_aside", "10", "10 %"),
    ("goals.budget", '"18k"', "18000"),
    ("pack.tested[].insulation", '"> 20 Mohm"', "20 Mohm"),
    ("pack.tested[].serial", "101", '"101"'),
    ("pack.boxes[].bolt", "10", "M10"),
    ("shop.gloves_tested", '"14.9.2026"', "2026-09-14"),
    ("shop.gloves_tested", '"09/14/2026"', "2026-09-14"),
    ("shop.meter.category", '"CAT 3"', "CAT III"),
    ("brakes.antilock", '"yes"', "true"),
    ("charging.drive_lockout", "0", "false"),
    ("network.bus[].nodes", '"inverter, bms"', '["inverter", "bms"]'),
    ("lv.battery.kind", '"LiFePO4"', "LFP"),
    ("charging.inlet", '"J1772"', "type 1"),
    ("brakes.booster", '"vacuum pump"', "electric vacuum pump"),
    ("network.line[].kind", '"estop"', "emergency stop"),
]
"""(path, what stands in the file, what is meant)."""

NO_GUESS = [
    ("cooling.loop[].pump.pressure", '"4.5 m"', "such as 10 kPa"),
    ("network.message[].period", '"100 Hz"', "such as 10 ms"),
    ("lv.load[].fuse", '"blade"', "such as 7.1 A"),
    ("pack.tested[].insulation", '"infinite"', "such as 10 Mohm"),
    ("lv.load[].length", '"3 m 20"', "such as 3 m"),
    ("lv.sleep_current", '"12 vv"', "such as 12 mA"),
    ("goals.ready_in", '"March"', "such as 10 d or 10 wk"),
    ("brakes.front_rotor", '"-5.6 kg"', "at least 500.0 g and at most 60.00 kg"),
    ("brakes.parking_grade", '"20 deg"', "is a unit of angle, not of grade"),
    ("shop.gloves_tested", '"10/09/2026"', "such as 2026-09-14"),
    ("shop.gloves_tested", "2026", "such as 2026-09-14"),
    ("cost.part[].price", '"2900 or 3100"', "a plain number"),
    ("cost.part[].lead_time", "2026-12-01", "2026-12-01 is not a number"),
    ("charging.inlet", '["type 2", "ccs 2"]', "type 1 or type 2 or ccs 1"),
]
"""Nothing is likelier than the rest: an example, or what is allowed, and no guess."""

MISPLACED = {
    "a list for one table": (
        '[lv]\nload = { name = "x" }',
        3,
        "allowed: [[lv.load]] and below it name",
        "two brackets",
    ),
    "one bracket too few": (
        '[cost.part]\nname = "x"',
        2,
        "each row under a header of its own",
        "[[cost.part]]",
    ),
    "a bus by its name": (
        '[network.bus.drive]\nbit_rate = "500 kbit/s"',
        2,
        "[[network.bus]]",
        "two brackets",
    ),
    "a plural": ('[[cost.parts]]\nname = "x"', 2, "there is no such key", "part"),
    "a value for a table": (
        '[lv]\nbattery = "20 Ah"',
        3,
        "allowed: a table, { capacity = ... }, with any of",
        "",
    ),
    "a list for a table": (
        '[lv]\nmain = ["25 mm^2"]',
        3,
        "allowed: a table, { size = ... }, with any of",
        "",
    ),
    "a section of another name": ('[low_voltage]\nvoltage = "14 V"', 2, "no such key", "lv"),
    "a section by its bus": ("[can]\nwired = []", 2, "no such key", "network"),
    "a section without its end": ("[brake]\nantilock = true", 2, "no such key", "brakes"),
    "a word of the trade": ("[brakes]\nabs = true", 3, "no such key", "antilock"),
    "another word of the trade": ('[cost]\nlabour = "260 h"', 3, "no such key", "work"),
    "a word of the network": (
        '[[network.bus]]\nname = "x"\nbaudrate = "1 Mbit/s"',
        4,
        "no such key",
        "bit_rate",
    ),
    "type for kind": ('[lv]\nbattery = { type = "AGM" }', 3, "no such key", "kind"),
    "a kind left out": (
        '[[network.line]]\nname = "x"',
        2,
        "kind is missing; allowed: kind (what it is for: wake-up",
        "",
    ),
    "something said twice": (
        '[charging]\ninlet = "type 2"\ninlet = "type 1"',
        4,
        "this is said twice",
        "",
    ),
    "a table over two lines": (
        '[lv]\nbattery = { capacity = "20 Ah",\n kind = "AGM" }',
        3,
        "on one line",
        "",
    ),
    "a decimal comma without quotes": (
        "[brakes]\nfront_share = 0,7",
        3,
        "TOML",
        "front_share = 0.7",
    ),
    "a unit without quotes": ("[lv]\nsleep_current = 10 mA", 3, "TOML", 'sleep_current = "10 mA"'),
    "a currency of its own": ('[[cost.part]]\nname = "x"\ncurrency = "EUR"', 4, "no such key", ""),
    "a part by its rating": (
        "[lv]\ndcdc = 1200",
        3,
        "the name of a dcdc in quotes, or a table",
        "",
    ),
}


@pytest.mark.arithmetic
@pytest.mark.parametrize(("path", "written", "likely"), GARBLED)
def test_a_garbled_entry_is_told_with_what_was_most_likely_meant(path, written, likely):
    (problem,) = problems_of(entry(path, written))
    assert problem.path.replace("[0]", "[]") == path
    assert problem.given.strip("\"'") in written.replace('\\"', '"')
    assert problem.allowed
    assert problem.nearest == likely
    row = rows_by_path()[path]
    if row.kind in KINDS and " or " not in likely and "(" not in likely:
        assert row.low is None or parse(likely, row.kind).si >= row.low
        assert not problems_of(entry(path, f'"{likely}"'))


@pytest.mark.arithmetic
@pytest.mark.parametrize(("path", "written", "told"), NO_GUESS)
def test_where_nothing_is_likely_no_guess_is_made_and_an_example_stands(path, written, told):
    (problem,) = problems_of(entry(path, written))
    assert problem.nearest == ""
    assert told in str(problem)


@pytest.mark.arithmetic
@pytest.mark.parametrize(("text", "line", "told", "likely"), MISPLACED.values(), ids=MISPLACED)
def test_what_stands_in_the_wrong_shape_is_told_by_its_line_with_the_right_one(
    text, line, told, likely
):
    (problem,) = problems_of(text)
    assert problem.line == line
    assert told in str(problem)
    assert likely in problem.nearest
    assert bool(problem.nearest) == bool(likely)


@pytest.mark.property
@given(
    path=st.sampled_from(sorted(p for p, row in rows_by_path().items() if row.kind in KINDS)),
    written=st.one_of(
        st.text(st.sampled_from("0123456789.,-~/ %°kMmAVWhRx€$"), min_size=1, max_size=8),
        st.tuples(
            st.floats(-1e4, 1e4),
            st.sampled_from(["", " ", "k", " vv", " A", " bar", " EUR", "/h", " m", " in", "h"]),
        ).map(lambda both: f"{both[0]:g}{both[1]}"),
    ),
)
def test_a_guess_at_a_number_is_one_the_entry_takes(path: str, written: str):
    row = rows_by_path()[path]
    if "[]." in path[: path.rfind("[]")] or path.count("[]") > 1 or path == "format":
        return
    for problem in problems_of(entry(path, f"'{written}'")):
        if not problem.nearest or problem.path.replace("[0]", "[]") != path:
            continue
        for guess in problem.nearest.split(" or "):
            if "(" not in guess and KINDS[row.kind].units.get(guess) is None:
                si = parse(guess, row.kind).si
                assert row.low is None or si >= row.low * (1 - 1e-9)
                assert row.high is None or si <= row.high * (1 + 1e-9)
