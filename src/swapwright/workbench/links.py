"""Every address of the workbench: the one place that makes links."""

from __future__ import annotations

from collections.abc import Iterable
from urllib.parse import parse_qs, quote, urlencode, urlsplit

START = "/"
WORDS = "/words"
SETTINGS = "/settings"
NEW_CAR = "/new"
COPY = "/copy"
DROP = "/drop"
STATIC = "/static"
API = "/api"
PARTS = "/parts"
SHOP = "/shop"
LOGIN = "/login"
LOGOUT = "/logout"
ACCOUNT = "/account"


def login(back: str) -> str:
    """Return the address where a person logs in, and is led on from to where they wanted."""
    return LOGIN if back == START else f"{LOGIN}?{urlencode({'next': back})}"


def account(act: str) -> str:
    """Return the address an act on an account is sent to."""
    return f"{ACCOUNT}/{act}"


def inside(given: str) -> str:
    """Return an address within the workbench; the start for any other."""
    leads_out = given.startswith("//") or "\\" in given or not given.isprintable()
    return given if given.startswith("/") and not leads_out else START


def car(name: str, rest: str = "", **query: str) -> str:
    """Return the address of a car's page."""
    address = f"/cars/{quote(name)}/{rest}"
    return f"{address}?{urlencode(query)}" if query else address


def stage(name: str, slug: str, path: str = "") -> str:
    """Return the address of a stage, at one entry of it where a path is given."""
    return car(name, slug) + (f"#{anchor(path)}" if path else "")


def entry(name: str, slug: str, path: str) -> str:
    """Return the address of a stage with one entry of it opened and marked."""
    return stage_opened(name, slug, path) + f"#{anchor(path)}"


def stage_opened(name: str, slug: str, path: str) -> str:
    """Return the address of a stage, with one entry of it opened where a path is given."""
    return car(name, slug, at=path) if path else car(name, slug)


def stage_in(name: str, address: str) -> tuple[str, str]:
    """Return the last word of a car's address and the entry it opens; empty for another car's."""
    parts, own = urlsplit(address), car(name)
    if not parts.path.startswith(own):
        return "", ""
    return parts.path.removeprefix(own), parse_qs(parts.query).get("at", [""])[0]


def figure(name: str, figure_id: str) -> str:
    """Return the address of a figure's working."""
    return car(name, f"figures/{quote(figure_id)}")


def findings(name: str, verdict: str = "") -> str:
    """Return the address of all findings of a car, or of those of one verdict."""
    return car(name, "findings", verdict=verdict) if verdict else car(name, "findings")


def word(slug: str) -> str:
    """Return the address of a term of the glossary."""
    return f"{WORDS}#{slug}"


def finding(name: str, slug: str, rule: str, subject: str) -> str:
    """Return the address of a stage with one finding of it opened."""
    anchor_of = finding_anchor(rule, subject)
    return car(name, slug, at=anchor_of) + f"#{anchor_of}"


def compare(name: str, one: str, other: str) -> str:
    """Return the address where two revisions stand side by side; ``now`` is the car as it is."""
    return car(name, "compare", one=one, other=other)


def export(name: str, file: str) -> str:
    """Return the address of a file made of a car."""
    return car(name, f"export/{quote(file)}")


def chart(name: str, curve: str, ending: str = "") -> str:
    """Return the address of a curve's page, or of its file with an ending (``.svg``)."""
    return car(name, f"charts/{quote(curve)}{ending}")


def flow(name: str, ending: str = "") -> str:
    """Return the address of the page that shows where the energy goes, or of its picture."""
    return car(name, f"flow{ending}")


def moves(name: str, figure_id: str, ending: str = "") -> str:
    """Return the address of the page that shows what moves a figure most, or of its picture."""
    return car(name, f"moves/{quote(figure_id)}{ending}")


def part(name: str, place: str, **query: str) -> str:
    """Return the address where the part at a place of a car is chosen and changed."""
    return car(name, f"parts/{quote(place)}", **query)


def part_entry(name: str, place: str, path: str) -> str:
    """Return the address of a part's place with one entry of the part opened and marked."""
    return part(name, place, at=path) + f"#{anchor(path)}"


def choosing(name: str, place: str, **query: str) -> str:
    """Return the address at which the comparison of parts for a place is watched and stopped."""
    return car(name, f"choosing/{quote(place)}", **query)


def kind_of_part(kind: str) -> str:
    """Return the address of a kind of part in the catalogue."""
    return f"{PARTS}#{quote(kind)}"


def catalogue_part(kind: str, name: str) -> str:
    """Return the address of a part of the catalogue in full."""
    return f"{PARTS}/{quote(kind)}/{quote(name)}"


def circuit(name: str, ending: str = "", query: Iterable[tuple[str, str]] = ()) -> str:
    """Return the address of the circuit's page, or with an ending of its drawing or its sheet.

    ``query`` are the switches thrown, as the page's own form names them.
    """
    asked = urlencode(list(query))
    return car(name, f"circuit{ending}") + (f"?{asked}" if asked else "")


def fault(name: str) -> str:
    """Return the address at which a fault is told."""
    return car(name, "fault")


def static(name: str) -> str:
    """Return the address of a file of ours."""
    return f"{STATIC}/{name}"


def anchor(path: str) -> str:
    """Return a build path as an anchor within a page."""
    return "entry-" + path.replace("[", "-").replace("]", "").replace(".", "-")


def finding_anchor(rule: str, subject: str) -> str:
    """Return a finding's anchor within its page."""
    return "finding-" + rule.replace(".", "-") + "-" + anchor(subject).removeprefix("entry-")


def shop(*rest: str, **query: str) -> str:
    """Return the address of a page of the shop, by the words of its path."""
    address = "/".join((SHOP, *(quote(each, safe="") for each in rest)))
    return f"{address}?{urlencode(query)}" if query else address
