"""A charge in short: at one power to the end voltage, then the current dying away; no time loop."""

from __future__ import annotations

import numpy as np

from swapwright.assess.book import FigureBook
from swapwright.assess.charge_runs import FULL_ALREADY
from swapwright.assess.days import AMBIENT
from swapwright.assess.estimate_tail import Estimated, write_tail
from swapwright.assess.estimate_warming import write_warming
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.circuit.carried import power_current
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.cell import derated_current
from swapwright.physics.pack.charge import charge_current, charge_efficiency
from swapwright.physics.pack.charge_time import (
    charge_between,
    energy_drawn,
    energy_in,
    steady_time,
)
from swapwright.physics.pack.window import soc_at_rest_voltage

SHEET = "part-data-sheet"
_POINTS = 401


def estimate_charge(book: FigureBook, case: Estimated, loads: float, efficiency: float) -> None:
    """Write time and energies of a charge by closed forms of the car's entries.

    The currents are worked out twice: with cells as cold as the air, and as warm as the charge
    makes them on its way, in a few slices of it.
    """
    at = f"estimate.charging{case.name}"
    air = AMBIENT[case.day]
    cold = f"{at}.begun"
    _at_start(book, case, f"{at}.start_current")
    _currents(book, case, cold, air)
    _first(book, at, cold)
    _turn(book, case, cold)
    _mean_voltage(book, cold, f"{cold}.turn")
    _on_the_way(book, case, cold, f"{cold}.current_limit")
    _begun(book, case, cold)
    _other(book, case, cold)
    write_warming(book, at, cold, air, case.path, case.around)
    _currents(book, case, at, f"{at}.cell_temperature")
    _mean_voltage(book, at, f"{cold}.turn")
    _on_the_way(book, case, at, f"{at}.warmed_current")
    write_tail(book, case, at)
    _mean_voltage(book, at, f"{at}.end", "whole_voltage")
    book.make(
        charge_between,
        f"{at}.charge",
        label="charge put in",
        capacity="pack.capacity",
        low="charging.from",
        high=f"{at}.end",
    )
    book.make(
        energy_in, f"{at}.stored", label="energy stored, in short",
        charge=f"{at}.charge", voltage=f"{at}.whole_voltage",
    )  # fmt: skip
    book.make(
        charge_efficiency,
        f"{at}.pack_efficiency",
        label="share of the energy into the pack that is stored",
        rest_voltage=f"{at}.whole_voltage",
        current=f"{at}.current",
        resistance="pack.resistance",
    )
    book.make(
        energy_drawn,
        f"{at}.drawn",
        label="energy drawn, in short",
        energy=f"{at}.stored",
        pack_efficiency=f"{at}.pack_efficiency",
        loads=_given(book, "auxiliaries.charging", loads, "W"),
        time=f"{at}.time",
        efficiency=_given(book, "charging.charger.efficiency", efficiency, "1"),
    )


NOT_COUNTED = "charge-loads-not-counted"


def _given(book: FigureBook, path: str, used: float, unit: str) -> str | Value:
    """Return the entry that a charge used, or its neutral value where it counts none."""
    if book.get(path) == used:
        return path
    if unit == "1" and book.get("charging.efficiency") == used:
        return "charging.efficiency"
    return Value(used, unit, "standard", NOT_COUNTED)


def _on_the_way(book: FigureBook, case: Estimated, at: str, limit: str) -> None:
    """Write the current on the way to the end voltage."""
    book.make(
        charge_current,
        f"{at}.current_of_power",
        label="current the power drives, on the way to the end voltage",
        power=case.power,
        rest_voltage=f"{at}.mean_voltage",
        resistance="pack.resistance",
    )
    book.make(
        lesser_current,
        f"{at}.current",
        label="current on the way to the end voltage",
        first=f"{at}.current_of_power",
        second=limit,
    )


def _at_start(book: FigureBook, case: Estimated, figure_id: str) -> None:
    """Write the current the end voltage drives where a charge begins: less than all nearly full."""
    with book.attempt(figure_id):
        inputs = {
            "end_voltage": book.value(case.volts),
            "start": book.value("charging.from"),
            "resistance": book.value("charging.cell_resistance"),
            "series": book.value("pack.series_cells"),
            "parallel": book.value("pack.parallel_cells"),
        }
        rest = book.car.line("pack.cell.ocv").at(inputs["start"].si)
        left = inputs["end_voltage"].si / inputs["series"].si - rest
        book.look_up(
            figure_id,
            "current the end voltage drives where the charge begins",
            max(left, 0.0) / inputs["resistance"].si * inputs["parallel"].si,
            "A",
            LookedUp("rest voltage", f"{left:.4g} V a cell are left", "current", SHEET),
            "current",
            **inputs,
        )


def _begun(book: FigureBook, case: Estimated, cold: str) -> None:
    """Write how long the charge would take with cells that stay as cold as the air."""
    book.make(
        charge_between,
        f"{cold}.charge",
        label="charge put in",
        capacity="pack.capacity",
        low="charging.from",
        high=case.target,
    )
    book.make(
        steady_time,
        f"{cold}.time",
        label="time, the cells as cold as the air",
        charge=f"{cold}.charge",
        current=f"{cold}.current",
    )


def _other(book: FigureBook, case: Estimated, at: str) -> None:
    """Write the current that power and charger allow, whatever the cells take."""
    power = f"{at}.current_of_power"
    book.make(
        lesser_current,
        f"{at}.other_current",
        label="current that power and charger allow",
        first=power,
        second=case.current if book.has(case.current) else power,
    )


def _currents(book: FigureBook, case: Estimated, at: str, cells: str) -> None:
    """Write the current charger and cells allow, and that of the power at the end voltage."""
    ambient = book.value(cells)
    book.look_up(
        f"{at}.cell_share",
        "share of their charge current the cells take",
        book.car.line("pack.cell.charge_derate").at(ambient.si),
        "1",
        LookedUp("charge derate", f"{ambient.si:.0f} K", "share", SHEET),
        "fraction",
        temperature=ambient,
    )
    book.make(
        derated_current,
        f"{at}.cell_current",
        label="charging current the cells take",
        rated_current="pack.charge_continuous",
        derate=f"{at}.cell_share",
    )
    book.make(
        lesser_current,
        f"{at}.current_limit",
        label="current that charger and cells allow",
        first=f"{at}.cell_current",
        second=case.current if book.has(case.current) else f"{at}.cell_current",
    )
    book.make(
        power_current,
        f"{at}.current_at_end",
        label="current of the power at the end voltage",
        power=case.power,
        voltage=case.volts,
    )
    book.make(
        lesser_current,
        f"{at}.current_at_turn",
        label="current that power, charger and cells allow at the end voltage",
        first=f"{at}.current_at_end",
        second=f"{at}.current_limit",
    )


def _first(book: FigureBook, at: str, cold: str) -> None:
    """Write the current at which cells that stay cold reach the end voltage."""
    book.make(
        lesser_current,
        f"{cold}.first_current",
        label="current where the end voltage is reached",
        first=f"{cold}.current_at_turn",
        second=f"{at}.start_current",
    )


def _turn(book: FigureBook, case: Estimated, at: str) -> None:
    """Write the state of charge at which the end voltage is reached."""
    volts, first = book.value(case.volts), book.value(f"{at}.first_current")
    ohms, parallel = book.value("charging.cell_resistance"), book.value("pack.parallel_cells")
    series = book.value("pack.series_cells")
    cell = volts.si / series.si - first.si / parallel.si * ohms.si
    start, end = book.value("charging.from"), book.value(case.target)
    reached = soc_at_rest_voltage(ocv=book.car.line("pack.cell.ocv"), voltage=cell)
    book.look_up(
        f"{at}.turn",
        "state of charge where the end voltage is reached",
        min(max(reached, start.si), end.si),
        "1",
        LookedUp("rest voltage", f"{cell:.4g} V a cell", "state of charge", SHEET),
        "fraction",
        end_voltage=volts,
        current=first,
        resistance=ohms,
        parallel=parallel,
        series=series,
        start=start,
        end=end,
    )


def _mean_voltage(book: FigureBook, at: str, until: str, name: str = "mean_voltage") -> None:
    """Write the mean rest voltage of the pack from where a charge begins to a state of charge."""
    ocv, series = book.car.line("pack.cell.ocv"), book.value("pack.series_cells")
    start, end = book.value("charging.from"), book.value(until)
    if end.si < start.si:
        raise Missing(reason=FULL_ALREADY)
    socs = np.linspace(start.si, end.si, _POINTS)
    book.look_up(
        f"{at}.{name}",
        "mean rest voltage of the pack",
        float(np.mean(np.interp(socs, ocv.x, ocv.y))) * series.si,
        "V",
        LookedUp("rest voltage", f"{start.si:.0%} to {end.si:.0%}", "mean", SHEET),
        "voltage",
        start=start,
        end=end,
        series=series,
    )
