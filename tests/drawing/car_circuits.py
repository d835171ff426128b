"""The circuits of the example cars, read from their build files."""

from __future__ import annotations

from functools import partial
from pathlib import Path

from swapwright.build.circuit.circuit import circuit_of
from swapwright.build.circuit.model import Circuit
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
SECOND_UNIT = {
    "drive.second.motor": "pm-radial-75kw",
    "drive.second.inverter": "inverter-400v-300a",
    "drive.second.gearbox": "reducer-9-1",
    "drive.second.axle": "front",
}


def circuit_from(name: str, changes: dict[str, str]) -> Circuit:
    """Return the circuit of an example car with some values of its file changed."""
    text = (EXAMPLES / f"{name}.toml").read_text(encoding="utf-8")
    for path, to in changes.items():
        text = edit(text, path, to)
    return circuit_of(resolve(load_text(text, "a car"), Catalogue()))


CARS = {
    **{
        name: partial(circuit_from, name, {})
        for name in ("ridgeway", "bakery", "parcel-round", "hill-farm", "fault-finder")
    },
    "twin": partial(circuit_from, "parcel-round", SECOND_UNIT),
}
