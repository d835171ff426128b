from __future__ import annotations

import pytest

from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.lacking import as_written, typed

pytestmark = pytest.mark.arithmetic


def car(text: str):
    return resolve(load_text(f"format = 1\n{text}", "car.toml"), Catalogue())


NO_PACK = "[car]\nname = 'x'"
CELLS = "[pack]\nseries = 96"
MODULES = "[pack]\nmodule = 'nmc-module-8s1p-60ah'"


@pytest.mark.parametrize(
    ("text", "needs", "expected"),
    [
        (NO_PACK, ("pack.cell.ocv", "pack.cell.r0"), ("pack.module",)),
        (NO_PACK, ("pack.series",), ("pack.modules_per_string",)),
        (CELLS, ("pack.cell.ocv", "pack.parallel"), ("pack.cell", "pack.parallel")),
        (MODULES, ("pack.modules_per_string",), ("pack.modules_per_string",)),
        (NO_PACK, ("drive.motor.peak_power",), ("drive.motor",)),
        ("[drive]\nmotor = 'pm-radial-75kw'", ("drive.motor.back_emf",), ("drive.motor.back_emf",)),
        (NO_PACK, ("charging.charger.power",), ("charging.charger",)),
        (NO_PACK, ("car.kerb_mass", "car.kerb_mass"), ("car.kerb_mass",)),
        (NO_PACK, ("pack.cell_r0_cold",), ()),
        (NO_PACK, ("network.bus", "network.line"), ("network.bus[].name", "network.line[].name")),
        (MODULES, ("pack.cell.ocv",), ("pack.module.cell.ocv",)),
    ],
)
def test_an_input_of_a_part_nobody_named_is_that_part(text, needs, expected):
    assert typed(needs, car(text)) == expected


def test_a_figure_that_is_missing_itself_becomes_what_it_lacks():
    missing = {
        "range.city": ("energy.city", "car.wheelbase"),
        "energy.city": ("car.tyres",),
        "accel.0_60mph": ("0-60 mph is not reached in 60 s",),
    }
    names = ("range.city", "accel.0_60mph")
    assert typed(names, car(NO_PACK), missing) == ("car.tyres", "car.wheelbase")


def test_a_row_of_a_list_is_written_as_a_file_has_it():
    assert as_written("mass[].load") == "[[mass]] load"
    assert as_written("car.tyres") == "car.tyres"
