"""Write a build file to start from, out of what is known already."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from swapwright.base.errors import InputError, Problem
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.build.starter import starter
from swapwright.catalogue.read import Catalogue


@dataclass(frozen=True)
class Question:
    """One thing to ask of the owner: its build path, the question, an example of an answer, and
    the kind of part it names, if it does."""

    path: str
    words: str
    example: str
    part_kind: str = ""


QUESTIONS: tuple[Question, ...] = (
    Question("car.name", "name of the car", "1972 coupe"),
    Question("car.kerb_mass", "kerb mass, weighed", "1180 kg"),
    Question("car.axle_mass.front", "of it, on the front axle", "610 kg"),
    Question("car.axle_mass.rear", "on the rear axle", "570 kg"),
    Question("car.wheelbase", "wheelbase", "2.43 m"),
    Question("car.tyres", "tyres, as on the sidewall", "175/70 R13"),
    Question("car.driven_axle", "driven axle: front, rear or all", "rear"),
    Question("car.limits.gross", "gross vehicle mass, from the plate", "1580 kg"),
    Question("car.road_load.cd_a", "drag area, a range if you are unsure", "0.65..0.75 m^2"),
    Question("car.road_load.c_rr", "rolling resistance coefficient", "0.012"),
    Question("goals.region", "whose rules apply: EU, UK, US, AU or NZ", "EU"),
    Question("drive.motor", "motor", "pm-radial-75kw", "motor"),
    Question("drive.inverter", "inverter", "inverter-400v-300a", "inverter"),
    Question("drive.gearbox", "gearbox", "reducer-9-1", "gearbox"),
    Question("drive.final_drive", "final drive ratio, 1 behind a reducer", "1"),
    Question("pack.module", "battery module", "nmc-module-8s1p-60ah", "module"),
    Question("pack.modules_per_string", "modules in series in a string", "12"),
    Question("pack.strings", "strings in parallel", "1"),
    Question("charging.charger", "charger", "charger-6k6-400v", "charger"),
)
"""What `swapwright new` asks, in the order of the stages of the job."""


def check_answer(path: str, typed: str, catalogue: Catalogue) -> Problem | None:
    """Return what is wrong with one answer taken by itself, or None."""
    try:
        build = load_text(starter({path: typed}), "answer")
        resolve(build, catalogue)
    except InputError as error:
        return error.problems[0]
    return None


def write_starter(path: Path, given: Mapping[str, str], catalogue: Catalogue) -> str:
    """Write a new build file and return its text.

    Raises InputError, and writes nothing, where the file exists, cannot be written, or would not
    load with what is given.
    """
    if path.exists() or path.is_symlink():
        raise InputError(Problem(str(path), "", "there is such a file already; nothing is written"))
    text = starter(given)
    resolve(load_text(text, str(path)), catalogue)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o644)
        with os.fdopen(handle, "w", encoding="utf-8", newline="\n") as file:
            file.write(text)
    except OSError as error:
        message = f"cannot be written: {error.strerror}"
        raise InputError(Problem(str(path), "", message)) from None
    return text
