"""Open a car: its build file read, its parts looked up."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from swapwright.build.car import Car
from swapwright.build.load import load
from swapwright.build.resolve import resolve
from swapwright.build.written import Build
from swapwright.catalogue.read import Catalogue
from swapwright.standards.version import DATA_VERSION


@dataclass(frozen=True)
class Opened:
    """A build file as named by the person, as written, and the car it resolves to."""

    file: str
    build: Build
    car: Car


def open_car(path: Path, catalogue: Catalogue) -> Opened:
    """Read a build file and resolve it; raise InputError with every problem found."""
    build = load(path)
    return Opened(str(path), build, resolve(build, catalogue, data_version=DATA_VERSION))
