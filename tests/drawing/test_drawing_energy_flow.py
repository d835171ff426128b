"""The flow of energy: bands as wide as what goes through them, each with its name and number."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET

import pytest

from swapwright.drawing.energy_flow import (
    MOST_BACK,
    MOST_DOWN,
    Station,
    Stream,
    flow_drawing,
)

pytestmark = pytest.mark.arithmetic

SVG = "{http://www.w3.org/2000/svg}"
STATIONS = (
    Station(
        "pack", Stream("from the cells", "100 Wh", 100.0), None, (Stream("heat", "4 Wh", 4.0),)
    ),
    Station(
        "drive",
        Stream("to the motor", "106 Wh", 106.0),
        Stream("back <again>", "10 Wh", 10.0),
        (Stream("motor", "20 Wh", 20.0), Stream("wind", "5 Wh", 5.0, is_inward=True)),
    ),
)


def bands_of(text: str) -> dict[str, list[tuple[float, float]]]:
    """Return the corners of each band by its name."""
    found = {}
    for each in ET.fromstring(text).iter(f"{SVG}g"):
        name = each.get("data-flow")
        if name:
            path = each.find(f"{SVG}path")
            assert path is not None
            corners = re.findall(r"(-?[\d.]+) (-?[\d.]+)", path.get("d") or "")
            found[name] = [(float(x), float(y)) for x, y in corners]
    return found


def span(corners: list[tuple[float, float]], axis: int) -> float:
    return max(at[axis] for at in corners) - min(at[axis] for at in corners)


def test_each_band_is_as_wide_as_what_goes_through_it():
    bands = bands_of(flow_drawing(STATIONS, title="a flow"))
    scale = MOST_DOWN / 106.0
    for name, axis, size in (
        ("from the cells", 0, 100.0),
        ("to the motor", 0, 106.0),
        ("back <again>", 0, 10.0),
        ("heat", 1, 4.0),
        ("motor", 1, 20.0),
        ("wind", 1, 5.0),
    ):
        assert span(bands[name], axis) == pytest.approx(size * scale, abs=0.02), name


def test_a_strong_flow_back_makes_all_bands_narrower():
    strong = Station("drive", Stream("down", "9", 9.0), Stream("up", "8", 8.0), ())
    bands = bands_of(flow_drawing((strong,), title="a flow"))
    assert span(bands["up"], 0) == pytest.approx(MOST_BACK, abs=0.02)
    assert span(bands["down"], 0) == pytest.approx(MOST_BACK * 9.0 / 8.0, abs=0.02)


def test_every_band_has_its_number_and_no_name_becomes_markup():
    text = flow_drawing(STATIONS, title="a <flow>")
    for number in ("100 Wh", "106 Wh", "10 Wh", "4 Wh", "20 Wh", "5 Wh"):
        assert f">{number}<" in text
    assert "back &lt;again&gt;" in text
    assert "<again>" not in text
    assert "<title>a &lt;flow&gt;</title>" in text


def test_what_enters_at_the_right_points_at_its_part_and_what_leaves_away_from_it():
    bands = bands_of(flow_drawing(STATIONS, title="a flow"))

    def tip(name: str) -> float:
        corners = bands[name]
        middle = (max(at[1] for at in corners) + min(at[1] for at in corners)) / 2.0
        return min(corners, key=lambda at: abs(at[1] - middle))[0]

    assert tip("motor") == max(x for x, _ in bands["motor"])
    assert tip("wind") == min(x for x, _ in bands["wind"])


def test_a_flow_has_no_colour_and_nothing_is_drawn_of_no_flow():
    for colour in re.findall(r"#[0-9a-f]{6}", flow_drawing(STATIONS, title="a flow")):
        assert colour[1:3] == colour[3:5] == colour[5:7]
    with pytest.raises(ValueError, match="no flow"):
        flow_drawing((), title="a flow")
