"""Nearly empty on a cold day: the sag under full demand, and the power that is left."""

from __future__ import annotations

import numpy as np

from swapwright.assess.book import FigureBook, standard
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.stages.pack import LOW_SOC, joints, stack
from swapwright.assess.stages.performance import drive_map
from swapwright.base.figure import LookedUp
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.cell import derated_current, pulse_resistance
from swapwright.physics.pack.power import voltage_at_current
from swapwright.physics.vehicle.road_load import power_at_speed
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.inputs import LIMITS
from swapwright.standards.ratings import TEN_SECONDS

FIFTY_MPH = standard(50 * 0.44704, "m/s", "trade-rule-50-mph")


def cold(book: FigureBook) -> None:
    """Write resistance, sag and power nearly empty on a cold day."""
    _cells(book)
    _sag(book)
    _power(book)


def _cells(book: FigureBook) -> None:
    """Write the cold cell's resistance and the share of its current it allows."""
    with book.attempt("cold.r0", "cold.r1", "cold.r2", "cold.discharge_share"):
        ambient = book.value("conditions.cold_day")
        for part in ("r0", "r1", "r2"):
            book.look_up(
                f"cold.{part}",
                f"cell {part}, cold day, 20 % charge",
                book.car.map(f"pack.cell.{part}").at(ambient.si, LOW_SOC.si),
                "ohm",
                LookedUp(part, f"{ambient.si:.0f} K", "20 %", "part-data-sheet"),
                "resistance",
                temperature=ambient,
                soc=LOW_SOC,
            )
        book.look_up(
            "cold.discharge_share",
            "share of the discharge current allowed on a cold day",
            book.car.line("pack.cell.discharge_derate").at(ambient.si),
            "1",
            LookedUp("discharge derating", f"{ambient.si:.0f} K", "share", "part-data-sheet"),
            "fraction",
            temperature=ambient,
        )
    book.make(
        pulse_resistance,
        "cold.cell_resistance",
        label="cell resistance, 10 s, cold day, 20 % charge",
        r0="cold.r0",
        r1="cold.r1",
        c1="pack.cell.c1",
        r2="cold.r2",
        c2="pack.cell.c2",
        time=TEN_SECONDS,
    )


def _sag(book: FigureBook) -> None:
    """Write the voltage under the current that drive and cold cells agree on."""
    stack(
        book,
        "cold.resistance",
        "pack resistance, 10 s, cold day, 20 % charge",
        "cold.cell_resistance",
        joints(book),
    )
    book.make(
        derated_current,
        "cold.current_allowed",
        label="10 s pack current allowed on a cold day",
        rated_current="pack.discharge_peak",
        derate="cold.discharge_share",
    )
    book.make(
        lesser_current,
        "cold.current",
        label="pack current, nearly empty on a cold day",
        first="current.peak_demand",
        second="cold.current_allowed",
    )
    book.make(
        voltage_at_current,
        "pack.voltage_sag_cold",
        label="pack voltage at that current, nearly empty on a cold day",
        rest_voltage="pack.rest_voltage_low",
        current="cold.current",
        resistance="cold.resistance",
    )


def _power(book: FigureBook) -> None:
    """Write the power left at the wheels at 50 mph."""
    with book.attempt("cold.force", "cold.wheel_power"):
        kit = setup(book, day="_cold")
        point = drive_map(kit, np.array([FIFTY_MPH.si]), soc=LOW_SOC.si)[0]
        book.look_up(
            "cold.force",
            "force at the road at 50 mph, nearly empty on a cold day",
            float(point[DELIVERED.index("force")]),
            "N",
            LookedUp(
                "drive map, cold day, 20 % charge",
                "50 mph",
                f"limited by {LIMITS[int(point[DELIVERED.index('limit')])]}",
                "swapwright-drive-map",
            ),
            "force",
            soc=LOW_SOC,
        )
    book.make(
        power_at_speed,
        "cold.wheel_power",
        label="wheel power at 50 mph, nearly empty on a cold day",
        force="cold.force",
        speed=FIFTY_MPH,
    )
