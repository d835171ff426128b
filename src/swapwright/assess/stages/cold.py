"""Nearly empty on a cold day: what is asked of the cells, the sag, and the power that lasts."""

from __future__ import annotations

import numpy as np

from swapwright.assess import drive_parts
from swapwright.assess.book import FigureBook
from swapwright.assess.estimate_drive import keep_point_efficiency
from swapwright.assess.kernel_inputs import setup
from swapwright.assess.stages.cell_point import RESISTANCES, derating_at, resistance_at
from swapwright.assess.stages.pack import joints, stack
from swapwright.assess.stages.performance import drive_map
from swapwright.base.figure import LookedUp
from swapwright.physics.drive.limit import greater_voltage, lesser_current, lesser_power
from swapwright.physics.pack.cell import current_to_voltage_limit, derated_current
from swapwright.physics.pack.power import demand_current, power_at_current, voltage_at_current
from swapwright.physics.vehicle.consumption import wheel_power_left
from swapwright.physics.vehicle.road_load import power_at_speed, road_load
from swapwright.simulate.deliverable import DELIVERED
from swapwright.simulate.inputs import LIMITS
from swapwright.standards.marks import FIFTY_MPH, LOW_SOC

MONITORED = "drive.limited_by_pack"


def cold(book: FigureBook) -> None:
    """Write resistance, demand, sag and power nearly empty on a cold day."""
    resistance_at(book, "cold", "cold day, 20 % charge", "conditions.cold_day", LOW_SOC)
    derating_at(
        book,
        "cold.discharge_share",
        "share of the discharge current allowed on a cold day",
        "discharge_derate",
        "conditions.cold_day",
    )
    _sag(book)
    _peak_power(book)
    _needed(book)
    _lasting_current(book)
    _lasting_power(book)


def _sag(book: FigureBook) -> None:
    """Write what is asked of the cold cells, and the voltage they are left with.

    Where the file declares that the pack monitor sends its discharge limit, the inverter asks no
    more than the cold cells allow; where it does not, all that full power takes.
    """
    book.make(
        derated_current,
        "cold.current_allowed",
        label="10 s pack current allowed on a cold day",
        rated_current="pack.discharge_peak",
        derate="cold.discharge_share",
    )
    book.make(
        demand_current,
        "cold.current_unlimited",
        label="pack current at peak power, nearly empty on a cold day",
        rest_voltage="pack.rest_voltage_low",
        power="drive.peak_power",
        resistance="cold.resistance",
    )
    book.make(
        lesser_current,
        "cold.current_demand",
        label="most current motor and inverter draw, nearly empty on a cold day",
        first="cold.current_unlimited",
        second="current.dc_limit",
    )
    monitored = book.car.flags.get(MONITORED, False)
    book.make(
        lesser_current,
        "cold.current",
        label="pack current, nearly empty on a cold day",
        first="cold.current_demand",
        second="cold.current_allowed" if monitored else "cold.current_demand",
    )
    book.make(
        voltage_at_current,
        "pack.voltage_sag_cold",
        label="pack voltage at that current, nearly empty on a cold day",
        rest_voltage="pack.rest_voltage_low",
        current="cold.current",
        resistance="cold.resistance",
    )


def _peak_power(book: FigureBook) -> None:
    """Write the power left at the wheels at 50 mph for the first seconds."""
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


def _needed(book: FigureBook) -> None:
    """Write what 50 mph takes on a cold day: at the wheels, and beside them heater and loads."""
    book.make(
        road_load,
        "cold.road_force",
        label="road load at 50 mph, cold day",
        a="road.a_cold",
        b="road.b",
        c="road.c_cold",
        speed=FIFTY_MPH,
        headwind="conditions.headwind",
    )
    book.make(
        power_at_speed,
        "cold.road_power",
        label="wheel power to hold 50 mph on a cold day",
        force="cold.road_force",
        speed=FIFTY_MPH,
    )
    with book.attempt("cold.drive_efficiency"):
        force = book.number("cold.road_force")
        keep_point_efficiency(book, "cold.drive_efficiency", FIFTY_MPH.si, force)
    book.total(
        "cold.auxiliary_power",
        "auxiliary power, cold day",
        "W",
        [("driving", "auxiliaries.driving", 1.0), ("heater", "auxiliaries.heater", 1.0)],
        "power",
    )


def _lasting_current(book: FigureBook) -> None:
    """Write the current the cold cells give for good: rated, and above every lowest voltage."""
    book.total(
        "cold.settled_cell_resistance",
        "cell resistance, settled, cold day, 20 % charge",
        "ohm",
        [(part, f"cold.{part}", 1.0) for part in RESISTANCES],
        "resistance",
    )
    stack(
        book,
        "cold.settled_resistance",
        "pack resistance, settled, cold day, 20 % charge",
        "cold.settled_cell_resistance",
        joints(book),
    )
    book.make(
        derated_current,
        "cold.continuous_allowed",
        label="continuous pack current allowed on a cold day",
        rated_current="pack.discharge_continuous",
        derate="cold.discharge_share",
    )
    floor = "pack.voltage_empty"
    for prefix in drive_parts.units(book):
        name = drive_parts.figure_prefix(prefix)
        book.make(
            greater_voltage,
            f"cold.floor_{name}",
            label="lowest voltage of cells and inverter",
            first=floor,
            second=f"{prefix}.inverter.min_voltage",
        )
        floor = f"cold.floor_{name}"
    book.make(
        current_to_voltage_limit,
        "cold.floor_current",
        label="lasting pack current that leaves the lowest voltage, cold day",
        ocv="pack.rest_voltage_low",
        limit=floor,
        resistance="cold.settled_resistance",
    )
    book.make(
        lesser_current,
        "cold.lasting_rating",
        label="lasting current of cells and inverter, cold day",
        first="cold.continuous_allowed",
        second="current.dc_limit",
    )
    book.make(
        lesser_current,
        "cold.lasting_current",
        label="lasting pack current, nearly empty on a cold day",
        first="cold.lasting_rating",
        second="cold.floor_current",
    )


def _lasting_power(book: FigureBook) -> None:
    """Write the power that lasts at the wheels at 50 mph, heater and driving loads taken off."""
    book.make(
        power_at_current,
        "cold.lasting_power",
        label="lasting pack power, nearly empty on a cold day",
        rest_voltage="pack.rest_voltage_low",
        current="cold.lasting_current",
        resistance="cold.settled_resistance",
    )
    book.make(
        wheel_power_left,
        "cold.lasting_from_pack",
        label="wheel power the pack gives for good, nearly empty on a cold day",
        terminal_power="cold.lasting_power",
        auxiliary_power="cold.auxiliary_power",
        efficiency="cold.drive_efficiency",
    )
    book.make(
        lesser_power,
        "cold.lasting_wheel_power",
        label="wheel power that lasts at 50 mph, nearly empty on a cold day",
        first="cold.lasting_from_pack",
        second="cold.wheel_power",
    )
