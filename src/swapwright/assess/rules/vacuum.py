"""Brake vacuum: its depth, what is left when the pump fails, how hard the pump works, its lamp."""

from __future__ import annotations

from swapwright.assess.context import Rule
from swapwright.assess.rules.compare import compare
from swapwright.assess.rules.word import flag, said_rule
from swapwright.assess.stages.vacuum import BOOSTER, WITH_PUMP
from swapwright.build.car import Car
from swapwright.standards.margins import NO_BAND
from swapwright.standards.vacuum import LEAST_STOPS, MOST_PUMP_DUTY, WANTED_VACUUM

NO_PUMP = "the brakes have no electric vacuum pump"


def _may_have_pump(car: Car) -> bool:
    """Tell whether the brakes have, or for all the file says may have, a vacuum pump."""
    return car.texts.get(BOOSTER, WITH_PUMP) == WITH_PUMP


RULES: tuple[Rule, ...] = (
    compare(
        "brakes.vacuum_reserve",
        subject="brakes.reservoir",
        value="brakes.vacuum_stops",
        limit=LEAST_STOPS,
        sense="at_least",
        outside="fix",
        inside_text="When the pump fails the store holds vacuum for a firm stop, and some for the next.",
        outside_text="When the pump fails the store holds no vacuum for a whole firm stop: the pedal goes hard at once.",
        remedy="Fit a reservoir, or a larger one, close to the booster, with a check valve towards the pump.",
        sources=("brake-reserve-practice", "boyle-isothermal"),
        applies=_may_have_pump,
        skip_reason=NO_PUMP,
        watch=NO_BAND,
    ),
    compare(
        "brakes.vacuum_level",
        subject="brakes.cut_out",
        value="brakes.vacuum_cut_out",
        limit=WANTED_VACUUM,
        sense="at_least",
        outside="fix",
        inside_text="The pump draws the vacuum a booster is made for.",
        outside_text="The pump stops short of the vacuum a booster is made for: the pedal is heavier than it was.",
        remedy="Set the vacuum switch deeper; if the pump cannot reach it, look for a leak or fit a better pump.",
        sources=("brake-vacuum-wanted-practice",),
        applies=_may_have_pump,
        skip_reason=NO_PUMP,
        watch=NO_BAND,
    ),
    compare(
        "brakes.vacuum_reach",
        subject="brakes.cut_out",
        value="brakes.vacuum_cut_out",
        limit="brakes.vacuum_reachable",
        sense="at_most",
        outside="fix",
        inside_text="A pump of the trade draws the vacuum it is to switch off at, in the air of the file's altitude.",
        outside_text="The pump is to switch off at a vacuum that no pump of the trade draws in the air of this altitude: it never switches off, runs hot and fails.",
        remedy="Set the vacuum switch to a vacuum the pump reaches in this air; high up that is less than at sea level.",
        sources=("vacuum-pump-reach-practice",),
        applies=_may_have_pump,
        skip_reason=NO_PUMP,
        watch=NO_BAND,
    ),
    compare(
        "brakes.vacuum_duty",
        subject="brakes.pump_flow",
        value="brakes.vacuum_duty",
        limit=MOST_PUMP_DUTY,
        sense="at_most",
        outside="watch",
        inside_text="In town the vacuum pump rests most of the time.",
        outside_text="In town the vacuum pump runs more than such pumps are made for.",
        remedy="Fit a pump that takes in more air, or one made to run all the time; look for leaks first.",
        sources=("vacuum-pump-duty-practice", "town-braking-assumed"),
        applies=_may_have_pump,
        skip_reason=NO_PUMP,
        watch=NO_BAND,
    ),
    said_rule(
        "brakes.vacuum_lamp",
        "brakes.low_vacuum_lamp",
        flag("brakes.low_vacuum_lamp"),
        outside="fix",
        inside_text="A lamp tells the driver that the brakes' vacuum is low.",
        outside_text="Nothing tells the driver that the brakes' vacuum is low until the pedal goes hard.",
        remedy="Fit a vacuum switch at the reservoir and a red lamp, with a buzzer.",
        sources=("brake-vacuum-least-practice",),
        applies=_may_have_pump,
        skip_reason=NO_PUMP,
    ),
)
