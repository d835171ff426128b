"""Every built-in part: named well, sourced, and a shape of its own, not a scaled copy."""

from __future__ import annotations

from itertools import combinations
from math import ceil

import numpy as np
import pytest

from swapwright.base.sources import all_sources
from swapwright.base.table import Line, Map
from swapwright.catalogue.fields import PART_FIELDS
from swapwright.catalogue.read import BUILT_IN, Catalogue, Part, is_part_name

CATALOGUE = Catalogue()
PARTS = tuple(CATALOGUE.get(kind, name) for kind in PART_FIELDS for name in CATALOGUE.names(kind))
TABLES = sorted({(part.kind, key) for part in PARTS for key in part.tables if "." not in key})
LOSS_TERMS = {
    "motor": ("iron_linear", "iron_square", "drag_linear", "drag_cubic"),
    "inverter": ("loss_fixed", "loss_linear", "loss_square"),
}
FEWEST = {
    "cell": 10,
    "module": 8,
    "motor": 10,
    "inverter": 8,
    "gearbox": 8,
    "charger": 3,
    "dcdc": 3,
    "fuse": 12,
    "contactor": 8,
}


def ids(part: Part) -> str:
    return f"{part.kind}/{part.name}"


def sampled(table: Line | Map) -> np.ndarray:
    """Return a table's values at shares of its own axes; a map's over one common window."""
    if isinstance(table, Line):
        x = np.array(table.x)
        return np.interp(np.linspace(x[0], x[-1], 25), x, table.y)
    rows, columns = np.linspace(263.15, 323.15, 9), np.linspace(0.05, 1.0, 9)
    return np.array([table.at(row, column) for row in rows for column in columns])


def ratio_spread(one: np.ndarray, other: np.ndarray) -> float:
    """Return how far the ratio of two tables is from being one number."""
    both = (one > 0.0) & (other > 0.0)
    ratio = one[both] / other[both]
    return float((ratio.max() - ratio.min()) / ratio.mean())


def straight_line_residual(one: np.ndarray, other: np.ndarray) -> float:
    """Return the worst miss of one table as a scaled and shifted other, over its range."""
    columns = np.stack([other, np.ones_like(other)], axis=1)
    fitted = columns @ np.linalg.lstsq(columns, one, rcond=None)[0]
    return float(np.abs(fitted - one).max() / np.ptp(one))


@pytest.mark.guard
@pytest.mark.parametrize("part", PARTS, ids=ids)
def test_every_part_says_what_it_resembles_and_where_from(part):
    assert is_part_name(part.name)
    assert len(part.texts["resembles"]) > 20
    assert part.texts["source"] in all_sources()
    assert part.values["mass"].si > 0.0
    assert part.values["mass"].ref == f"{part.kind}/{part.name}"


@pytest.mark.guard
@pytest.mark.parametrize(("kind", "fewest"), FEWEST.items())
def test_there_is_a_choice_of_every_kind(kind, fewest):
    assert len(CATALOGUE.names(kind)) >= fewest


@pytest.mark.guard
def test_every_file_of_the_catalogue_is_a_part_of_a_known_kind():
    files = [file for file in BUILT_IN.rglob("*") if file.is_file()]
    assert len(files) == len(PARTS)
    assert {file.parent.name for file in files} <= set(PART_FIELDS)


@pytest.mark.guard
@pytest.mark.parametrize("part", PARTS, ids=ids)
def test_a_file_opens_with_a_word_on_what_the_part_is(part):
    first = (BUILT_IN / part.file).read_text(encoding="utf-8").splitlines()[0]
    assert first.startswith("# ")


@pytest.mark.arithmetic
@pytest.mark.parametrize(("kind", "key"), TABLES)
def test_no_two_tables_of_a_kind_are_scaled_copies(kind, key):
    tables = [(part.name, sampled(part.tables[key])) for part in PARTS if part.kind == kind]
    for (name, one), (other_name, other) in combinations(tables, 2):
        assert ratio_spread(one, other) > 0.01, (name, other_name)
        assert straight_line_residual(one, other) > 0.015, (name, other_name)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CATALOGUE.names("cell"))
def test_the_resistances_of_one_cell_have_different_shapes(name):
    cell = CATALOGUE.get("cell", name)
    tables = [sampled(cell.tables[key]) for key in ("r0", "r1", "r2")]
    assert all(ratio_spread(one, other) > 0.2 for one, other in combinations(tables, 2))


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CATALOGUE.names("cell"))
def test_cold_makes_an_empty_cell_stiffer_still(name):
    # A map that were one curve of temperature times one of charge would give equal ratios.
    table = CATALOGUE.get("cell", name).tables["r1"]
    assert isinstance(table, Map)
    empty, half = 0.1, 0.5
    cold = table.at(263.15, empty) / table.at(263.15, half)
    warm = table.at(298.15, empty) / table.at(298.15, half)
    assert cold > 1.02 * warm


@pytest.mark.arithmetic
@pytest.mark.parametrize("kind", LOSS_TERMS)
def test_no_two_motors_or_inverters_share_their_losses_in_the_same_parts(kind):
    shares = []
    for name in CATALOGUE.names(kind):
        values = CATALOGUE.get(kind, name).values
        if kind == "motor":
            scales = [values["max_speed"].si ** power for power in (1, 2, 1, 3)]
        else:
            scales = [values["phase_current_limit"].si ** power for power in (0, 1, 2)]
        terms = [values[key].si * s for key, s in zip(LOSS_TERMS[kind], scales, strict=True)]
        shares.append((name, np.array(terms) / sum(terms)))
    for (name, one), (other_name, other) in combinations(shares, 2):
        assert np.abs(one - other).max() > 0.01, (name, other_name)


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", CATALOGUE.names("module"))
def test_a_module_is_its_cells_and_a_little_more(name):
    module = CATALOGUE.get("module", name)
    values = module.values
    count = values["series"].si * values["parallel"].si
    cells = count * values["cell.mass"].si
    assert 1.02 * cells < values["mass"].si < 1.45 * cells
    box = values["length"].si * values["width"].si * values["height"].si
    if module.texts["cell.format"] == "cylindrical":
        cell = values["cell.diameter"].si ** 2 * values["cell.height"].si
    else:
        cell = values["cell.length"].si * values["cell.width"].si * values["cell.height"].si
    assert 0.85 * count * cell < box < 2.2 * count * cell
    joints = values["series"].si + 1
    assert 1e-5 < values["joint_resistance"].si / joints < 2e-4
    full = values["series"].si * values["cell.max_voltage"].si
    assert values["max_voltage_to_case"].si > ceil(full)


@pytest.mark.arithmetic
def test_a_modules_cell_stands_below_it_with_its_own_name():
    module = CATALOGUE.get("module", "nmc-module-8s1p-60ah")
    cell = CATALOGUE.get("cell", "nmc-pouch-60ah")
    assert module.parts["cell"] == cell.name
    assert module.values["cell.capacity"] == cell.values["capacity"]
    assert module.tables["cell.ocv"] == cell.tables["ocv"]


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("module", "in_series", "per_string", "voltages", "resistance"),
    [
        ("nmc-module-8s1p-60ah", 12, 96, (288.0, 403.2), 0.115),
        ("lfp-module-6s1p-200ah", 6, 36, (100.8, 131.4), 0.018),
        ("lfp-module-8s1p-105ah", 13, 104, (291.2, 379.6), 0.057),
        ("nmc-module-10s2p-60ah", 10, 100, (300.0, 420.0), 0.060),
        ("nmc-module-12s1p-50ah", 16, 192, (576.0, 806.4), 0.230),
    ],
)
def test_packs_of_these_modules_have_the_usual_voltages(
    module, in_series, per_string, voltages, resistance
):
    # Voltages and resistances of five ordinary conversions, from the cells and module joints.
    values = CATALOGUE.get("module", module).values
    series = in_series * values["series"].si
    assert series == per_string
    assert series * values["cell.min_voltage"].si == pytest.approx(voltages[0])
    assert series * values["cell.max_voltage"].si == pytest.approx(voltages[1])
    cells = series * values["cell.resistance_10s"].si / values["parallel"].si
    stack = cells + in_series * values["joint_resistance"].si
    assert 0.85 * resistance < stack < 1.05 * resistance
