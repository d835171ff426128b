"""Write a build file to start from, out of what is known already."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.starter import starter
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.telling import tell
from swapwright.jobs.text_file import write_new
from swapwright.standards.road_load_typical import BODY_STYLES, TYRE_STYLES

DRAG_AREA, ROLLING = "car.road_load.cd_a", "car.road_load.c_rr"
REGION = "goals.region"


@dataclass(frozen=True)
class Question:
    """One thing to ask of the owner: its build path, the question, an example of an answer.

    ``in_us_units`` is the example for a US owner where it differs; ``part_kind`` the kind of part
    it names, if it does.
    """

    path: str
    words: str
    example: str
    in_us_units: str = ""
    part_kind: str = ""


@dataclass(frozen=True)
class MassQuestion:
    """One row of the axle ledger to ask for: what comes out (remove) or goes in (add)."""

    way: str
    what: str
    mass: str
    in_us_units: str


QUESTIONS: tuple[Question, ...] = (
    Question("car.name", "name of the car", "1972 coupe"),
    Question(REGION, "whose rules apply: EU, UK, US, AU or NZ", "EU"),
    Question("car.kerb_mass", "kerb mass, weighed", "1180 kg", "2600 lb"),
    Question("car.axle_mass.front", "of it, on the front axle", "610 kg", "1340 lb"),
    Question("car.axle_mass.rear", "on the rear axle", "570 kg", "1260 lb"),
    Question("car.wheelbase", "wheelbase", "2.43 m", "96 in"),
    Question("car.tyres", "tyres, as on the sidewall", "175/70 R13"),
    Question("car.driven_axle", "driven axle: front, rear or all", "rear"),
    Question("car.limits.gross", "gross vehicle mass, from the plate", "1580 kg", "3480 lb"),
    Question("car.limits.front_axle", "front axle limit, from the plate", "760 kg", "1680 lb"),
    Question("car.limits.rear_axle", "rear axle limit, from the plate", "870 kg", "1920 lb"),
    Question(DRAG_AREA, "drag area, or one of these bodies", "0.65..0.75 m^2", "7.0..8.1 ft^2"),
    Question(ROLLING, "rolling resistance coefficient, or one of these tyres", "0.012"),
    Question("car.engine_before.power", "the old engine's power", "60 kW", "80 hp"),
    Question("car.engine_before.fuel", "the fuel it used", "9 L/100 km", "26 mpg"),
    Question("goals.range.min", "range wanted", "120 km", "75 mi"),
    Question("goals.range.at", "at what steady speed", "90 km/h", "55 mph"),
    Question("goals.top_speed", "top speed wanted", "130 km/h", "80 mph"),
    Question("goals.climb.grade", "grade it must hold", "6 %"),
    Question("goals.climb.at", "at what speed", "80 km/h", "50 mph"),
    Question("goals.climb.for", "for how long", "10 min"),
    Question("goals.occupants", "people aboard", "2"),
    Question("drive.motor", "motor", "pm-radial-75kw", part_kind="motor"),
    Question("drive.inverter", "inverter", "inverter-400v-300a", part_kind="inverter"),
    Question("drive.gearbox", "gearbox", "reducer-9-1", part_kind="gearbox"),
    Question("drive.final_drive", "final drive ratio, 1 behind a reducer", "1"),
    Question("pack.module", "battery module", "nmc-module-8s1p-60ah", part_kind="module"),
    Question("pack.modules_per_string", "modules in series in a string", "12"),
    Question("pack.strings", "strings in parallel", "1"),
    Question("charging.charger", "charger", "charger-6k6-400v", part_kind="charger"),
)
"""What `swapwright new` asks, in the order of the stages of the job."""

MASSES: tuple[MassQuestion, ...] = (
    MassQuestion("remove", "engine and what bolts to it", "148 kg", "326 lb"),
    MassQuestion("remove", "tank, fuel and exhaust", "70 kg", "154 lb"),
    MassQuestion("add", "motor, inverter and mounts", "86 kg", "190 lb"),
    MassQuestion("add", "pack with its boxes", "182 kg", "400 lb"),
    MassQuestion("add", "charger, dc-dc, cables and the rest", "43 kg", "95 lb"),
)
"""The rows of the axle ledger `swapwright new` asks for, each with where it sits."""


def plural(kind: str) -> str:
    """Return what several parts of a kind are called."""
    return f"{kind}es" if kind.endswith("x") else f"{kind}s"


def typical(path: str, profile: str) -> Mapping[str, str]:
    """Return what may be answered by name at a path, and the typical value it stands for."""
    if path == DRAG_AREA:
        ends = {each.name: each.cd_a for each in BODY_STYLES}
        return {
            name: _range(value.low or value.si, value.high or value.si, profile)
            for name, value in ends.items()
        }
    if path == ROLLING:
        return {each.name: f"{each.c_rr.low}..{each.c_rr.high}" for each in TYRE_STYLES}
    return {}


def _range(low: float, high: float, profile: str) -> str:
    """Return two drag areas as a range a build file takes."""
    first, second = (tell(end, "area", profile, digits=2) for end in (low, high))
    return f"{first.partition(' ')[0]}..{second}"


def check_answer(path: str, typed: str, given: Mapping[str, str], catalogue: Catalogue) -> str:
    """Return in words what is wrong with one answer beside those given so far; empty if nothing."""
    try:
        build = load_text(starter({**given, path: typed}), "answer")
        resolve(build, catalogue)
    except InputError as error:
        return _told(error.problems[0])
    return ""


def _told(problem: Problem) -> str:
    """Return a problem without the place, which the person is at."""
    parts = [problem.message]
    if problem.allowed:
        parts.append(f"allowed: {problem.allowed}")
    if problem.nearest:
        parts.append(f"did you mean: {problem.nearest}")
    return "; ".join(parts)


def write_starter(path: Path, given: Mapping[str, str], catalogue: Catalogue) -> str:
    """Write a new build file and return its text.

    Raises InputError, and writes nothing, where the file exists, cannot be written, or would not
    load with what is given.
    """
    if path.exists() or path.is_symlink():
        raise InputError(Problem(str(path), "", "there is such a file already; nothing is written"))
    text = starter(given)
    resolve(load_text(text, str(path)), catalogue)
    if not write_new(path, text):
        raise InputError(Problem(str(path), "", "there is such a file already; nothing is written"))
    return text


def faults_in(given: Mapping[str, str], catalogue: Catalogue) -> Mapping[str, str]:
    """Return in words what is wrong with which of several answers, all at once, by their paths.

    What is wrong with none of them alone stands under the empty path. An answer that is at fault is
    left out while the others are looked at.
    """
    found: dict[str, str] = {}
    left = dict(given)
    while True:
        try:
            resolve(load_text(starter(left), "answers"), catalogue)
        except InputError as error:
            new = {_asked(each.path, left): _told(each) for each in reversed(error.problems)}
            if "" in new:  # it may be no more than what the answers left out have left
                return found or new
            found.update(new)
            left = {path: text for path, text in left.items() if path not in new}
        else:
            return found


def _asked(path: str, given: Mapping[str, str]) -> str:
    """Return which answer a problem's path belongs to, itself or one above or below it, or none."""
    for at in given:
        if path == at or path.startswith((f"{at}.", f"{at}[")):
            return at
    return next((at for at in given if path and at.startswith((f"{path}.", f"{path}["))), "")


def mass_entries(number: int, row: MassQuestion, mass: str, behind: str) -> dict[str, str]:
    """Return the entries of a row of the axle ledger, none where its mass is not known."""
    at = f"mass[{number}]"
    entries = {f"{at}.{row.way}": row.what, f"{at}.mass": mass, f"{at}.x": behind}
    return {path: text for path, text in entries.items() if text} if mass else {}
