"""``swapwright pilot``: the readings a mechanic takes at a charging inlet.

Duty points as published for IEC 61851-1 and SAE J1772 (an instrument's manual); the states' peaks
with a source of 1 kohm, a diode of 0.7 V and 2.74 kohm, 1.3 kohm and 270 ohm are worked out here.
"""

from __future__ import annotations

import json

import pytest
from command_line import complaint, run
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from swapwright.jobs.pilot_document import pilot_schema
from swapwright.standards.pilot import band_of, pilot_current, pilot_state, proximity_of


@pytest.mark.published
@pytest.mark.parametrize(
    ("duty", "amps"),
    [
        (8.0, 6.0),
        (10.0, 6.0),
        (20.0, 12.0),
        (25.0, 15.0),
        (30.0, 18.0),
        (50.0, 30.0),
        (80.0, 48.0),
        (85.0, 51.0),
        (90.0, 65.0),
        (96.0, 80.0),
        (97.0, None),
        (2.0, None),
        (5.0, None),
        (7.5, None),
        (98.0, None),
    ],
)
def test_the_pilots_duty_allows_the_published_current(duty: float, amps: float | None):
    found = pilot_current(duty)
    assert found == (None if amps is None else pytest.approx(amps))


@pytest.mark.published
@pytest.mark.parametrize(("letter", "others"), [("B", ()), ("C", (1300.0,)), ("D", (270.0,))])
def test_the_states_are_what_the_cars_resistors_make_of_twelve_volts(
    letter: str, others: tuple[float, ...]
):
    ohms = 1.0 / sum(1.0 / each for each in (2740.0, *others))
    peak = 0.7 + (12.0 - 0.7) * ohms / (1000.0 + ohms)
    state = pilot_state(peak)
    assert state is not None and state.letter == letter
    assert abs(peak - state.voltage) < 0.1


@pytest.mark.published
@pytest.mark.parametrize(
    ("inlet", "ohms", "words"),
    [
        ("type 1", 150.0, "latched"),
        ("type 1", 480.0, "pressed"),
        ("type 2", 1500.0, "13 A"),
        ("type 2", 680.0, "20 A"),
        ("type 2", 220.0, "32 A"),
        ("type 2", 100.0, "63 A"),
    ],
)
def test_the_proximity_contact_says_what_is_published(inlet: str, ohms: float, words: str):
    found = proximity_of(ohms, inlet)
    assert found is not None and words in found.words
    assert proximity_of(ohms * 1.3, inlet) is None


@pytest.mark.property
@given(st.floats(0.0, 100.0), st.floats(0.0, 100.0))
def test_every_duty_has_one_band_and_more_duty_never_allows_less_between_8_and_96(
    one: float, other: float
):
    for duty in (one, other):
        band = band_of(duty)
        assert band.low <= duty <= band.high
    low, high = sorted((one, other))
    if low >= 8.0 and high <= 96.0:
        assert (pilot_current(low) or 0.0) <= (pilot_current(high) or 0.0) + 1e-9


@pytest.mark.arithmetic
def test_the_car_takes_the_lowest_of_pilot_and_cable():
    said = run("pilot", "6 V", "53.3 %", "680 ohm", "--inlet", "type 2").output
    assert "The car may draw: 20 A (the cable allows no more" in " ".join(said.split())
    said = run("pilot", "9 V", "53.3 %", "220 ohm", "--inlet", "type 2").output
    assert "once in state C" in said and "state B" in said


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("readings", "words"),
    [
        (("0 V", "53 %"), "state E has no pulses"),
        (("-6 V",), "no state"),
        (("333 ohm",), "no coding"),
    ],
)
def test_what_fits_nothing_has_to_be_found_out(readings: tuple[str, ...], words: str):
    done = run("pilot", *readings)
    assert done.exit_code == 1 and words in done.output


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "readings",
    [("dunno",), ("9 V", "6 V"), ("120 %",), ("9",), ("9 V", "--inlet", "type 9")],
)
def test_what_is_no_reading_is_bad_input_in_one_line(readings: tuple[str, ...]):
    done = run("pilot", *readings)
    assert done.exit_code == 2 and complaint(done)


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    "readings",
    [("9 V", "53 %"), ("100 %",), ("5 %",), ("-12 V",), ("220 ohm", "--inlet", "type 2")],
)
def test_the_document_keeps_its_schema_and_the_cautions_stand_in_it(readings: tuple[str, ...]):
    document = json.loads(run("pilot", *readings, "--json").output)
    Draft202012Validator(pilot_schema()).validate(document)
    assert any("Mains stands at the inlet" in each for each in document["cautions"])
    assert json.loads(run("schema", "--output", "pilot").output)["title"] == "pilot"
