"""The one-line diagram as it stands in a page: its elements lead to their entries."""

from __future__ import annotations

from markupsafe import Markup

from swapwright.assess.circuit.section import SwitchState
from swapwright.drawing.svg import inline
from swapwright.jobs.check import Checked
from swapwright.jobs.circuit import CircuitView
from swapwright.jobs.circuit_drawing import diagram_of
from swapwright.jobs.circuit_words import CircuitWords, entry_path
from swapwright.workbench.car_page import CarPage
from swapwright.workbench.words import entry_link

CLASS = "one-line"


def one_line(
    page: CarPage,
    checked: Checked,
    view: CircuitView,
    state: SwitchState | None,
    *,
    is_linked: bool = True,
) -> Markup:
    """Return the diagram in a page; each element tells its figures and leads to its entry."""
    links = {row.device.name: entry_link(page.name, entry_path(row.device)) for row in view.devices}
    drawn = diagram_of(
        checked,
        view,
        page.profile,
        state,
        links=links if is_linked else None,
        titles=titles_of(checked, view, page.profile, state),
    )
    # Every text in it has been escaped by the drawing.
    return Markup(inline(drawn, CLASS))


def titles_of(
    checked: Checked, view: CircuitView, profile: str, state: SwitchState | None
) -> dict[str, str]:
    """Return what is told of each device: its verdict and figures, and how its switches stand."""
    words = CircuitWords(checked, profile)
    titles = {}
    for row in view.devices:
        told = [words.device_title(row)]
        if state is not None:
            told += [
                f"{element.name} {'closed' if element.name in state.closed else 'open'}"
                for element in row.device.elements
                if element.is_switch
            ]
        titles[row.device.name] = "; ".join(told)
    return titles
