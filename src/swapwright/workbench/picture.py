"""The pictures that stand in each stage: which there are, and in what order."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from markupsafe import Markup

from swapwright.build.circuit.circuit import circuit_of
from swapwright.drawing.svg import inline
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import circuit_view
from swapwright.jobs.curve_drawing import curve_of, svg_of, words_of
from swapwright.jobs.energy_flow import energy_flow, flow_svg
from swapwright.jobs.form import MOVES_MOST
from swapwright.jobs.side_drawing import side_view_of
from swapwright.jobs.stage import curve_kind, curve_thing, stage_called
from swapwright.jobs.tornado import ALONE, tornado, tornado_svg
from swapwright.workbench import links
from swapwright.workbench.car_page import CarPage
from swapwright.workbench.one_line import one_line
from swapwright.workbench.words import entry_link


@dataclass(frozen=True)
class Picture:
    """One picture of a stage: its SVG, where it stands in full, and a line of words below it.

    ``curve`` is the id of the curve it draws, empty where it draws none; one ``is_wide`` that
    needs the whole width of the sheet.
    """

    title: str
    svg: Markup
    link: str
    words: str = ""
    curve: str = ""
    is_wide: bool = False


Drawn = Callable[[CarPage], Picture | None]


def curve_pictures(page: CarPage, slug: str) -> tuple[Picture, ...]:
    """Return the pictures of a stage's curves, those of one thing (a loop) side by side."""
    checked, stage = page.checked, stage_called(slug)
    if checked is None or stage is None:
        return ()
    ids = [each for each in checked.assessment.curves if curve_kind(each) in stage.curves]
    things = [curve_thing(each) for each in ids]
    place = {
        each: (things.index(thing), stage.curves.index(curve_kind(each)))
        for each, thing in zip(ids, things, strict=True)
    }
    ids.sort(key=place.__getitem__)
    made = (_curve_picture(page, checked, each) for each in ids)
    return tuple(each for each in made if each is not None)


def _curve_picture(page: CarPage, checked: Checked, curve_id: str) -> Picture | None:
    curve = curve_of(checked, curve_id)
    if curve is None:
        return None
    svg = svg_of(checked, curve_id, page.profile, page.settings.world, is_small=True)
    return Picture(
        curve.label[:1].upper() + curve.label[1:],
        Markup(inline(svg, "chart-small")),
        links.chart(page.name, curve_id),
        words_of(curve_id),
        curve_id,
    )


def flow_picture(page: CarPage) -> Picture | None:
    """Return where the energy goes on the city cycle, where a car has a city range."""
    flow = None if page.checked is None else energy_flow(page.checked, page.profile)
    if flow is None:
        return None
    return Picture(
        "where the energy goes on the city cycle",
        Markup(inline(flow_svg(flow, page.title), "energy-flow")),
        links.flow(page.name),
        "A band is as wide as the energy in it; what leaves at the right does not come back.",
    )


def moves_picture(page: CarPage) -> Picture | None:
    """Return which uncertain inputs move the combined range, where any do."""
    if page.checked is None:
        return None
    found = tornado(page.checked, MOVES_MOST, page.profile, page.settings.world)
    if found is None or not found.rows:
        return None
    svg = tornado_svg(found, lambda path: entry_link(page.name, path), page.title)
    return Picture(
        f"what moves it most: {found.label}",
        Markup(inline(svg, "tornado")),
        links.moves(page.name, MOVES_MOST),
        f"{ALONE[0].upper()}{ALONE[1:]}. A name leads to its entry.",
    )


def side_picture(page: CarPage) -> Picture | None:
    """Return the side view, small: its numbers are those of the ledger's rows."""
    svg = None if page.checked is None else side_view_of(page.checked, page.profile, is_small=True)
    if svg is None:
        return None
    return Picture(
        "The car from the side",
        Markup(inline(svg, "side-view small")),
        links.car(page.name, "side"),
        "Numbers are those of the rows. Open it to move a mass and see what the axles take.",
    )


def circuit_picture(page: CarPage) -> Picture | None:
    """Return the one-line diagram, where a car has a circuit."""
    checked = page.checked
    if checked is None or not circuit_of(checked.opened.car).elements:
        return None
    svg = one_line(page, checked, circuit_view(checked, ()), None, is_linked=False)
    words = "Its own page has every element's figures and throws the switches."
    return Picture("one-line diagram", svg, links.circuit(page.name), words, is_wide=True)


PICTURES: Mapping[str, tuple[Drawn, ...]] = {
    "goals": (moves_picture, flow_picture),
    "high-voltage": (circuit_picture,),
    "weight": (side_picture,),
}
"""What stands before a stage's curves, by its slug."""


def pictures_of(page: CarPage, slug: str) -> tuple[Picture, ...]:
    """Return the pictures of a stage that can be drawn of a car."""
    drawn = (draw(page) for draw in PICTURES.get(slug, ()))
    return (*(each for each in drawn if each is not None), *curve_pictures(page, slug))
