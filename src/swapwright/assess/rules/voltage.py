"""Voltage: pack against inverter from empty and cold to full and regenerating, and back-EMF."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules.compare import compare
from swapwright.build.car import Car
from swapwright.physics.drive.motor_loss import PERMANENT_MAGNET
from swapwright.standards.voltage_class import MAX_CLASS_B_DC

SHEET = ("part-data-sheet",)
TURNING = ("part-data-sheet", "krause-2002-pm-machine")


def _unit_rules(prefix: str, unit: str, suffix: str) -> tuple[Rule, ...]:
    def has_unit(car: Car) -> bool:
        return prefix == "drive" or car.has(f"{prefix}.motor")

    def turns_live(car: Car) -> bool:
        kind = car.texts.get(f"{prefix}.motor.kind")
        return has_unit(car) and kind in (None, PERMANENT_MAGNET)

    none = "the car has no second motor"
    return (
        compare(
            f"voltage.inverter_full{suffix}",
            subject=f"{prefix}.inverter",
            value="pack.voltage_full",
            limit=f"{prefix}.inverter.max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="The full pack stays within the inverter's highest running voltage.",
            outside_text="The full pack stands above the inverter's highest running voltage: it trips, or is destroyed.",
            remedy="Take cells out of the string, or fit an inverter rated above the full pack.",
            sources=SHEET,
            applies=has_unit,
            skip_reason=none,
            watch=0.02,
        ),
        compare(
            f"voltage.regen_full{suffix}",
            subject=f"{prefix}.inverter",
            value="pack.voltage_regen",
            limit=f"{prefix}.inverter.absolute_max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="Full charge and regeneration together stay below the inverter's absolute maximum.",
            outside_text="Full charge and regeneration together pass the inverter's absolute maximum.",
            remedy="Cut regeneration near full charge, take cells out, or fit an inverter with more headroom.",
            sources=SHEET,
            applies=has_unit,
            skip_reason=none,
            watch=0.02,
        ),
        compare(
            f"voltage.inverter_empty{suffix}",
            subject=f"{prefix}.inverter",
            value="pack.voltage_empty",
            limit=f"{prefix}.inverter.min_voltage",
            sense="at_least",
            outside="fix",
            inside_text="At the cells' lowest voltage the inverter still runs.",
            outside_text="The inverter cuts out before the cells are at their lowest voltage: the low end of the pack cannot be used.",
            remedy="Add cells in series, fit an inverter with a lower minimum, or raise the low end of the usable window.",
            sources=SHEET,
            applies=has_unit,
            skip_reason=none,
        ),
        compare(
            f"voltage.sag_cold{suffix}",
            subject=f"{prefix}.inverter",
            value="pack.voltage_sag_cold",
            limit=f"{prefix}.inverter.min_voltage",
            sense="at_least",
            outside="fix",
            inside_text="Nearly empty on a cold day and at the current the cold cells allow, the inverter still runs.",
            outside_text="Nearly empty on a cold day the pack sags below the inverter's lowest voltage.",
            remedy="Limit the current by cell temperature, heat the pack, or add cells in parallel.",
            sources=SHEET,
            applies=has_unit,
            skip_reason=none,
            watch=0.05,
        ),
        compare(
            f"voltage.back_emf{suffix}",
            subject=f"{prefix}.motor",
            value=f"{unit}.back_emf_at_limit",
            limit=f"{prefix}.inverter.absolute_max_voltage",
            sense="at_most",
            outside="stop",
            inside_text="With gating stopped at the highest motor speed, the turning motor stays below the inverter's absolute maximum.",
            outside_text="With gating stopped at the highest motor speed, the turning motor drives the inverter above its absolute maximum.",
            remedy="Lower the motor's speed limit or use a taller ratio; a motor with less back-EMF; an inverter that withstands it.",
            sources=TURNING,
            applies=turns_live,
            skip_reason=none
            if prefix != "drive"
            else "this kind of motor makes no voltage of its own when turned",
        ),
        compare(
            f"voltage.back_emf_pack{suffix}",
            subject=f"{prefix}.motor",
            value=f"{unit}.back_emf_at_limit",
            limit="pack.voltage_nominal",
            sense="at_most",
            outside="watch",
            inside_text="A turning motor with its gating stopped stays below the pack's voltage.",
            outside_text="At its highest speed the turning motor stands above the pack: if gating stops it brakes the car and charges the pack uncontrolled.",
            remedy="Know the road speed it begins at, put it on the towing label, and keep contactors closed until the car is slow.",
            sources=TURNING,
            applies=turns_live,
            skip_reason=none
            if prefix != "drive"
            else "this kind of motor makes no voltage of its own when turned",
        ),
    )


RULES = (
    *_unit_rules("drive", "unit", ""),
    *_unit_rules("drive.second", "unit2", "_second"),
    compare(
        "voltage.class",
        subject="pack",
        value="pack.max_working_voltage",
        limit=MAX_CLASS_B_DC,
        sense="at_most",
        outside="stop",
        inside_text="Judged by its maximum working voltage. Above 60 V dc it is class B and every high-voltage rule applies; at or below, burns, arcs, breaking capacity, tools and jewellery still matter.",
        outside_text="The pack stands above 1500 V dc: outside what road-vehicle rules cover.",
        remedy="Use fewer cells in series.",
        sources=("iso-6469-3-voltage-class",),
    ),
)
