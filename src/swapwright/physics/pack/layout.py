"""How many cells stand where: series, parallel and the whole count."""

from __future__ import annotations

from swapwright.base.figure import Symbol, Working


def cells_in_series(*, modules: float, module_series: float) -> float:
    """Return the cells in series in a string.

    modules: in series in a string [1]
    module_series: cells in series in a module [1]
    result: count [1]
    source: definition-series-parallel
    """
    return modules * module_series


def cells_in_parallel(*, strings: float, module_parallel: float) -> float:
    """Return the cells in parallel in the whole pack.

    strings: in parallel [1]
    module_parallel: cells in parallel in a module [1]
    result: count [1]
    source: definition-series-parallel
    """
    return strings * module_parallel


def cell_count(*, series: float, parallel: float) -> float:
    """Return the cells of a pack.

    series: cells in series [1]
    parallel: cells in parallel in the whole pack [1]
    result: count [1]
    source: definition-series-parallel
    """
    return series * parallel


def joint_resistance_per_cell(
    *,
    modules: float,
    module_joints: float,
    string_joints: float,
    module_parallel: float,
    series: float,
) -> float:
    """Return the joints' resistance as each cell of a string sees it.

    A string's joints carry the current of ``module_parallel`` cells and are shared by its cells in
    series.

    modules: in series in a string [1]
    module_joints: of one module [ohm]
    string_joints: contactors, links and cable joints of a string [ohm]
    module_parallel: cells in parallel in a module [1]
    series: cells in series in a string [1]
    result: resistance [ohm]
    source: definition-series-parallel
    """
    return (modules * module_joints + string_joints) * module_parallel / series


def pack_current(*, cell_current: float, parallel: float) -> float:
    """Return the current of the whole pack at a current of each cell.

    cell_current: of one cell [A]
    parallel: cells in parallel in the whole pack [1]
    result: current [A]
    source: definition-series-parallel
    """
    return cell_current * parallel


def mass_of_all(*, count: float, each: float) -> float:
    """Return the mass of several alike.

    count: how many [1]
    each: mass of one [kg]
    result: mass [kg]
    source: definition-sum
    """
    return count * each


def volume_of_all(*, count: float, each: float) -> float:
    """Return the volume of several alike.

    count: how many [1]
    each: volume of one [m^3]
    result: volume [m^3]
    source: definition-sum
    """
    return count * each


def current_per_cell(*, current: float, parallel: float) -> float:
    """Return the current of one cell.

    current: of the pack [A]
    parallel: cells in parallel in the whole pack [1]
    result: current [A]
    source: definition-series-parallel
    """
    return current / parallel


_SERIES = Symbol("series", "1", 1.0, 250.0, "cells in series", "count")
_MODULES = Symbol("modules", "1", 1.0, 50.0, "modules in a string", "count")
_MODULE_PARALLEL = Symbol(
    "module_parallel", "1", 1.0, 80.0, "cells in parallel in a module", "count"
)

WORKINGS: tuple[Working, ...] = (
    Working(
        cells_in_series,
        "m * s_m",
        {
            "m": _MODULES,
            "s_m": Symbol("module_series", "1", 1.0, 30.0, "cells in series in a module", "count"),
        },
        Symbol("cells_in_series", "1", 1.0, 1000.0, "cells in series", "count"),
        ("definition-series-parallel",),
        "every string alike",
        "",
    ),
    Working(
        cells_in_parallel,
        "n * p_m",
        {"n": Symbol("strings", "1", 1.0, 10.0, "strings", "count"), "p_m": _MODULE_PARALLEL},
        Symbol("cells_in_parallel", "1", 1.0, 1000.0, "cells in parallel", "count"),
        ("definition-series-parallel",),
        "strings joined share the current evenly",
        "unequal strings",
    ),
    Working(
        cell_count,
        "s * p",
        {"s": _SERIES, "p": Symbol("parallel", "1", 1.0, 80.0, "cells in parallel", "count")},
        Symbol("cell_count", "1", 1.0, 20000.0, "cells", "count"),
        ("definition-series-parallel",),
        "",
        "",
    ),
    Working(
        joint_resistance_per_cell,
        "(m * R_m + R_s) * p_m / s",
        {
            "m": _MODULES,
            "R_m": Symbol("module_joints", "ohm", 0.0, 0.01, "joints of a module"),
            "R_s": Symbol("string_joints", "ohm", 0.0, 0.05, "joints of a string"),
            "p_m": _MODULE_PARALLEL,
            "s": _SERIES,
        },
        Symbol("joint_resistance_per_cell", "ohm", 0.0, 1.0, "joints as one cell sees them"),
        ("definition-series-parallel",),
        "every string alike",
        "joints that loosen with age",
    ),
    Working(
        pack_current,
        "I_c * p",
        {
            "I_c": Symbol("cell_current", "A", 0.0, 1000.0, "cell current"),
            "p": Symbol("parallel", "1", 1.0, 80.0, "cells in parallel", "count"),
        },
        Symbol("pack_current", "A", 0.0, 80000.0, "pack current", "current"),
        ("definition-series-parallel",),
        "strings joined share the current evenly",
        "unequal strings",
    ),
    Working(
        mass_of_all,
        "n * m",
        {
            "n": Symbol("count", "1", 1.0, 20000.0, "how many", "count"),
            "m": Symbol("each", "kg", 1e-4, 500.0, "mass of one"),
        },
        Symbol("mass_of_all", "kg", 0.0, 1e6, "mass of all", "mass"),
        ("definition-sum",),
        "all alike",
        "",
    ),
    Working(
        volume_of_all,
        "n * V",
        {
            "n": Symbol("count", "1", 1.0, 20000.0, "how many", "count"),
            "V": Symbol("each", "m^3", 1e-6, 0.1, "volume of one"),
        },
        Symbol("volume_of_all", "m^3", 0.0, 1e3, "volume of all", "volume"),
        ("definition-sum",),
        "all alike",
        "the gaps between them",
    ),
    Working(
        current_per_cell,
        "I / p",
        {
            "I": Symbol("current", "A", 0.0, 1000.0, "pack current"),
            "p": Symbol("parallel", "1", 1.0, 80.0, "cells in parallel", "count"),
        },
        Symbol("current_per_cell", "A", 0.0, 1000.0, "current of one cell", "current"),
        ("definition-series-parallel",),
        "strings joined share the current evenly",
        "unequal strings",
    ),
)
