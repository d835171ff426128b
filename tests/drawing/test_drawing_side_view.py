"""The side view: discs as heavy as they are large, nothing upon anything else, places to scale."""

from __future__ import annotations

import itertools
import math
import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.drawing.lettering import text_width
from swapwright.drawing.side_layout import SideMass, discs_of, label_width, tags_of
from swapwright.drawing.side_view import SideAxle, SideCentre, SideText, SideView, side_view
from swapwright.drawing.style import TEXT

SVG = "{http://www.w3.org/2000/svg}"
some = settings(max_examples=60, deadline=None, derandomize=True)
masses = st.lists(
    st.builds(
        SideMass,
        row=st.just(0),
        kind=st.sampled_from(("add", "load", "remove")),
        mass=st.floats(0.0, 600.0),
        x=st.floats(-1.0, 4.0),
        label=st.sampled_from(
            ("3", "12 V battery, 12 kg out", "rear pack, 56 in series, 106 kg in")
        ),
        words=st.just("a mass"),
    ),
    min_size=1,
    max_size=18,
).map(lambda found: [replace(each, row=row) for row, each in enumerate(found)])


def mass(row: int, kind: str, kilograms: float, x: float, label: str = "") -> SideMass:
    return SideMass(row, kind, kilograms, x, label or f"{row + 1} a mass", f"row {row + 1}")


def axle(key: str, verdict: str = "met") -> SideAxle:
    lines = (
        SideText(f"{key}.loaded", "loaded", "680 kg"),
        SideText(f"{key}.limit", "limit", "760 kg"),
    )
    return SideAxle(key, f"{key} axle", lines, verdict)


def view(**changes) -> SideView:
    given_ = {
        "title": "side view",
        "wheelbase": 2.5,
        "wheelbase_text": "2.50 m",
        "radius": 0.3,
        "masses": (
            mass(0, "remove", 148.0, 0.05),
            mass(1, "add", 37.0, 2.0),
            mass(2, "load", 148.0, 1.3),
        ),
        "axles": (axle("front"), axle("rear", "stop")),
        "centres": (
            SideCentre(1.2, 0.5, SideText("unladen.x", "unladen", "1.20 m"), is_loaded=False),
            SideCentre(1.3, 0.5, SideText("loaded.x", "loaded", "1.30 m"), is_loaded=True),
        ),
    }
    return SideView(**(given_ | changes))


def root_of(a_view: SideView | None = None, **options) -> ET.Element:
    return ET.fromstring(side_view(a_view or view(), **options))


def disc_of(root: ET.Element, row: int) -> ET.Element:
    group = next(each for each in root.iter(f"{SVG}g") if each.get("data-row") == str(row))
    return next(each for each in group.iter() if each.get("class") == "disc")


@pytest.mark.arithmetic
def test_a_mass_stands_at_its_place_on_the_scale_the_drawing_states():
    root = root_of()
    scale, origin = (float(root.get(f"data-{name}")) for name in ("scale", "origin"))
    for each in view().masses:
        assert float(disc_of(root, each.row).get("cx")) == pytest.approx(
            origin + each.x * scale, abs=0.03
        )


@pytest.mark.arithmetic
def test_four_times_the_mass_is_four_times_the_area():
    radii = [float(disc_of(root_of(), row).get("r")) for row in (0, 1, 2)]
    assert radii[0] == pytest.approx(2.0 * radii[1], rel=0.01)
    assert radii[0] == radii[2]


@pytest.mark.arithmetic
def test_what_comes_out_is_hollow_and_broken_and_what_is_carried_is_hatched():
    root = root_of()
    out, in_ = disc_of(root, 0), disc_of(root, 1)
    assert out.get("fill") == "none"
    assert out.get("stroke-dasharray")
    assert in_.get("stroke-dasharray") is None
    carried = next(each for each in root.iter(f"{SVG}g") if each.get("data-row") == "2")
    assert any(each.tag == f"{SVG}path" for each in carried)


@pytest.mark.arithmetic
def test_each_axle_says_its_load_its_limit_and_one_verdict():
    root = root_of()
    texts = {each.get("data-live"): each.text for each in root.iter() if each.get("data-live")}
    assert texts["front.loaded"] == "680 kg"
    assert texts["rear.limit"] == "760 kg"
    for key, verdict in (("front", "met"), ("rear", "stop")):
        held = next(each for each in root.iter() if each.get("data-verdict-of") == key)
        shown = [each for each in held if each.get("display") != "none"]
        assert [each.get("data-verdict") for each in shown] == [verdict]


@pytest.mark.arithmetic
def test_only_a_movable_view_can_be_gone_into_by_keyboard():
    fixed, movable = root_of(), root_of(is_movable=True)
    assert fixed.get("role") == "img"
    assert not [each for each in fixed.iter() if each.get("tabindex")]
    assert movable.get("role") == "group"
    held = [each for each in movable.iter() if each.get("tabindex") == "0"]
    assert [each.get("aria-label") for each in held] == ["row 1", "row 2", "row 3"]


@pytest.mark.arithmetic
def test_a_view_is_ink_by_attributes_alone_and_its_texts_stay_texts():
    name = '"><script>alert(1)</script>'
    text = side_view(view(masses=(mass(0, "add", 10.0, 1.0, name),)), is_movable=True)
    assert "<script" not in text
    assert not re.search(r"\sstyle=|<style", text)
    assert name in "".join(ET.fromstring(text).itertext())


@pytest.mark.arithmetic
def test_a_car_without_rows_and_without_a_known_wheel_is_still_drawn():
    root = root_of(view(masses=(), centres=(), radius=None))
    assert any("wheelbase 2.50 m" in text for text in root.itertext())


@pytest.mark.property
@some
@given(found=masses)
def test_no_disc_lies_upon_another(found: list[SideMass]):
    discs = discs_of(found, scale=30.0, origin=60.0, ground=100.0, radius=0.3)
    assert [disc.mass.row for disc in discs] == list(range(len(found)))
    for one, other in itertools.combinations(discs, 2):
        assert math.hypot(one.x - other.x, one.y - other.y) >= one.radius + other.radius
    assert all(disc.y + disc.radius < 100.0 for disc in discs)


@pytest.mark.property
@some
@given(found=masses)
def test_no_label_lies_upon_another_and_no_leader_crosses_one(found: list[SideMass]):
    tags = tags_of(discs_of(found, scale=30.0, origin=60.0, ground=100.0, radius=0.3), 97.5)
    spans = []
    for tag in tags:
        wide = label_width(tag.disc.mass.label)
        spans.append((tag.x - wide, tag.x) if tag.runs_left else (tag.x, tag.x + wide))
    for (one, span), (other, beside) in itertools.permutations(zip(tags, spans, strict=True), 2):
        if one.row == other.row:
            assert span[1] <= beside[0] + 1e-9 or beside[1] <= span[0] + 1e-9
        if span[0] < other.x < span[1]:
            assert other.row < one.row


@pytest.mark.property
@some
@given(found=masses, wheelbase=st.floats(1.5, 5.0), width=st.floats(118.0, 260.0))
def test_every_text_and_disc_is_on_the_sheet(found: list[SideMass], wheelbase: float, width: float):
    root = root_of(view(masses=tuple(found), wheelbase=wheelbase, centres=()), width_mm=width)
    _, _, right, bottom = map(float, root.get("viewBox").split())
    for each in root.iter(f"{SVG}text"):
        wide = text_width("".join(each.itertext()), TEXT)
        before = {"end": 1.0, "middle": 0.5}.get(each.get("text-anchor"), 0.0)
        left = float(each.get("x")) - before * wide
        assert -0.5 <= left <= left + wide <= right + 0.5
        assert 0.0 < float(each.get("y")) < bottom
    for each in root.iter(f"{SVG}circle"):
        x, y, radius = (float(each.get(name)) for name in ("cx", "cy", "r"))
        assert radius <= x <= right - radius
        assert radius <= y <= bottom - radius
