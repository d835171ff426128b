"""Lists of one each, and things said twice: a fault of the file, at its line, never an unknown."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swapwright.base.errors import InputError, Problem
from swapwright.build.load import load_text

LOOP = '[[cooling.loop]]\nname = "drive"\nparts = ["pump", "inverter", "radiator"]\n'
BUS = '[[network.bus]]\nname = "drive"\nnodes = ["inverter", "pack controller"]\n'
GEARS = "[drive]\ngearbox = { ratios = [3.5, 2.0, 1.3, 1.0] }\n"
LOAD = '[[lv.load]]\nname = "lamps"\n'

WRONG = {
    "two pressures for three parts": (
        f'{LOOP}drops = ["0 kPa", "12 kPa"]',
        5,
        "cooling.loop[0].drops",
        "one for each of parts, in their order; given: 2 in the list;"
        " allowed: 3, as many as cooling.loop[0].parts has",
    ),
    "four pressures for three parts": (
        f'{LOOP}drops = ["0 kPa", "12 kPa", "5 kPa", "5 kPa"]',
        5,
        "cooling.loop[0].drops",
        "given: 4 in the list; allowed: 3",
    ),
    "one bit rate for two nodes": (
        f'{BUS}node_bit_rates = ["500 kbit/s"]',
        5,
        "network.bus[0].node_bit_rates",
        "one for each of nodes, in their order; given: 1 in the list; allowed: 2",
    ),
    "three shares of torque for four gears": (
        f"{GEARS}torque_by_gear = [0.5, 0.8, 1.0]",
        4,
        "drive.torque_by_gear",
        "one for each of ratios, in their order; given: 3 in the list; allowed: 4",
    ),
    "a disconnect between one box": (
        '[hv]\ndisconnect = { between = ["front"] }',
        3,
        "hv.disconnect.between",
        "stands between two boxes; given: front; allowed: the names of two boxes",
    ),
    "a disconnect between three boxes": (
        '[hv]\ndisconnect = { between = ["front", "rear", "boot"] }',
        3,
        "hv.disconnect.between",
        "given: front, rear, boot",
    ),
    "a node twice on a bus": (
        '[[network.bus]]\nname = "drive"\nnodes = ["inverter", "charger", "inverter"]',
        4,
        "network.bus[0].nodes",
        "a node stands here more than once; given: inverter",
    ),
    "a current and a power that are not one": (
        f'{LOAD}current = "3 A"\npower = "500 W"',
        5,
        "lv.load[0].power",
        "leave one out; given: 3.00 A and 500 W; allowed: 500 W is 35.7 A at lv.voltage, 14.0 V",
    ),
    "more bleeds than high points": (
        f"{LOOP}high_points = 1\nair_bleeds = 3",
        6,
        "cooling.loop[0].air_bleeds",
        "given: 3; allowed: up to 1, which is high_points",
    ),
    "one inverter in two loops": (
        f'{LOOP}[[cooling.loop]]\nname = "other"\nparts = ["pump", "inverter"]',
        7,
        "cooling.loop[1].parts",
        "this part stands in cooling.loop[0].parts too; given: inverter",
    ),
    "an inverter in a loop and cooled by air": (
        f'[cooling]\nby_air = ["inverter"]\n{LOOP}',
        6,
        "cooling.loop[0].parts",
        "this part stands in cooling.by_air too; given: inverter",
    ),
    "a station whose lowest voltage is above its highest": (
        '[charging]\nstation = { voltage = "500 V", min_voltage = "600 V" }',
        3,
        "charging.station.voltage",
        "the window is upside down; allowed: above charging.station.min_voltage",
    ),
}

RIGHT = {
    "one pressure for each part": f'{LOOP}drops = ["0 kPa", "12 kPa", "5 kPa"]',
    "one bit rate for each node": f'{BUS}node_bit_rates = ["500 kbit/s", "250 kbit/s"]',
    "pressures of parts not listed yet": '[[cooling.loop]]\nname = "x"\ndrops = ["1 kPa"]',
    "gears of a box that is not described here": "[drive]\ntorque_by_gear = [0.5, 1.0]",
    "two chargers in two places": (
        '[cooling]\nby_air = ["charger"]\n[[cooling.loop]]\nname = "x"\nparts = ["pump", "charger"]'
    ),
    "two radiators in a row": (
        '[[cooling.loop]]\nname = "x"\nparts = ["pump", "radiator", "inverter", "radiator"]'
    ),
    "a lamp of 150 W and 10.7 A": f'{LOAD}current = "10.7 A"\npower = "150 W"',
    "a power whose range holds the current": f'{LOAD}current = "10 A"\npower = "120..160 W"',
    "a system of 24 V": f'[lv]\nvoltage = "28 V"\n{LOAD}current = "5 A"\npower = "140 W"',
}


def problems_of(text: str) -> tuple[Problem, ...]:
    try:
        load_text(f"format = 1\n{text}\n", "car.toml")
    except InputError as error:
        return error.problems
    return ()


@pytest.mark.arithmetic
@pytest.mark.parametrize(("text", "line", "path", "told"), WRONG.values(), ids=WRONG)
def test_what_contradicts_itself_is_told_at_its_line_with_what_would_fit(text, line, path, told):
    (problem,) = problems_of(text)
    assert (problem.line, problem.path) == (line, path)
    assert told in str(problem)


@pytest.mark.arithmetic
@pytest.mark.parametrize("text", RIGHT.values(), ids=RIGHT)
def test_what_agrees_is_taken(text):
    assert problems_of(text) == ()


@pytest.mark.property
@given(st.floats(0.1, 300.0), st.floats(0.2, 5.0), st.sampled_from([12.0, 14.0, 28.0]))
def test_a_power_agrees_with_a_current_only_near_the_voltage_of_the_system(amps, ratio, voltage):
    text = (
        f'[lv]\nvoltage = "{voltage} V"\n{LOAD}current = "{amps} A"\n'
        f'power = "{amps * voltage * ratio:.6f} W"'
    )
    if abs(ratio - 1.0) < 0.019:
        assert problems_of(text) == ()
    elif abs(ratio - 1.0) > 0.021:
        assert [problem.path for problem in problems_of(text)] == ["lv.load[0].power"]
