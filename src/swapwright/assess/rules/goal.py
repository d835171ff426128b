"""Goals: what the customer asked for against what the car will do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swapwright.assess.context import Context, Rule, judged
from swapwright.assess.rules.compare import asks_for, compare
from swapwright.base.figure import Value
from swapwright.base.finding import Finding
from swapwright.standards.margins import NO_BAND
from swapwright.standards.marks import HUNDRED_KMH, SIXTY_MPH

OWN = ("owner-goal",)


def _too_slow(goal: str, words: str, remedy: str) -> Finding:
    """Return the *fix* of a sprint that the simulated run ended without reaching."""
    return Finding(
        rule=goal,
        subject=goal,
        verdict="fix",
        text=f"{words} is not reached within the time the run is given.",
        remedy=remedy,
        sources=OWN,
        figures=("top_speed.peak",),
    )


def _sprint(goal: str, time: str, words: str, mark: Value) -> Rule:
    """Return the rule of a sprint's time; a car whose top speed is below the mark never gets there."""
    remedy = (
        "More torque at the wheels: a shorter ratio, a stronger motor, or more battery current."
    )
    timed = compare(
        goal,
        subject=goal,
        value=time,
        limit=goal,
        sense="at_most",
        outside="fix",
        inside_text=f"{words} is reached in the time wanted.",
        outside_text=f"{words} takes longer than wanted.",
        remedy=remedy,
        sources=OWN,
        applies=asks_for(goal),
        skip_reason=f"no {words} time is asked for",
    )

    def judge(context: Context) -> Iterable[Finding]:
        if context.has(time) or not context.has("top_speed.peak"):
            return timed.judge(context)
        fastest = context.value("top_speed.peak")
        if fastest.si >= mark.si:
            return (
                (_too_slow(goal, words, remedy),)
                if time in context.book.reasons
                else (timed.judge(context))
            )
        return (
            judged(
                goal,
                goal,
                fastest,
                mark,
                sense="at_least",
                outside="fix",
                text=f"A time for {words} is wanted, but the car does not get that fast.",
                remedy="A taller ratio if the motor's speed ends it, more power if drag does.",
                sources=OWN,
                figures=("top_speed.peak",),
            ),
        )

    return replace(timed, judge=judge)


RULES = (
    compare(
        "goals.range",
        subject="goals.range",
        value="range.at_goal_speed",
        limit="goals.range.min",
        sense="at_least",
        outside="fix",
        inside_text="The range wanted at this steady speed is reached with a new pack.",
        outside_text="The range wanted at this steady speed is not reached, even with a new pack.",
        remedy="Fit more cells, ask for a lower speed, or cut drag and rolling resistance.",
        sources=OWN,
        applies=asks_for("goals.range"),
        skip_reason="no range is asked for",
    ),
    compare(
        "goals.range_aged",
        subject="goals.range",
        value="range.at_goal_speed_aged",
        limit="goals.range.min",
        sense="at_least",
        outside="watch",
        inside_text="The range wanted is still reached when the pack has aged.",
        outside_text="The range wanted is no longer reached once the pack has aged: say so in the offer.",
        remedy="Tell the owner the aged range beside the new one, or fit more cells.",
        sources=("pack-health-end-typical",),
        applies=asks_for("goals.range"),
        skip_reason="no range is asked for",
    ),
    compare(
        "goals.top_speed",
        subject="goals.top_speed",
        value="top_speed.peak",
        limit="goals.top_speed",
        sense="at_least",
        outside="fix",
        inside_text="The top speed wanted is reached.",
        outside_text="The top speed wanted is not reached.",
        remedy="Use a taller ratio if the motor's speed limits it, more power if drag does.",
        sources=OWN,
        applies=asks_for("goals.top_speed"),
        skip_reason="no top speed is asked for",
    ),
    compare(
        "goals.top_speed_held",
        subject="goals.top_speed",
        value="top_speed.sustained",
        limit="goals.top_speed",
        sense="at_least",
        outside="watch",
        inside_text="The top speed wanted can be held.",
        outside_text="The top speed wanted is reached on peak power only: once motor and inverter are warm the car slows below it.",
        remedy="Tell the owner the speed that can be held, or fit a motor with more continuous power.",
        sources=OWN,
        applies=asks_for("goals.top_speed"),
        skip_reason="no top speed is asked for",
        watch=NO_BAND,
    ),
    _sprint("goals.zero_to_60", "accel.0_60mph", "0-60 mph", SIXTY_MPH),
    _sprint("goals.zero_to_100", "accel.0_100kmh", "0-100 km/h", HUNDRED_KMH),
    compare(
        "goals.climb",
        subject="goals.climb",
        value="climb.speed",
        limit="goals.climb.at",
        sense="at_least",
        outside="fix",
        inside_text="The grade is held at the speed wanted for the time wanted.",
        outside_text="The car falls back on the grade: heat or power takes its speed.",
        remedy="Use a shorter ratio so the motor turns faster at less torque, or a motor with more continuous power.",
        sources=OWN,
        applies=asks_for("goals.climb"),
        skip_reason="no climb is asked for",
        watch=NO_BAND,
    ),
    compare(
        "goals.start_grade",
        subject="goals.start_grade",
        value="start_grade.possible",
        limit="goals.start_grade",
        sense="at_least",
        outside="fix",
        inside_text="The car starts on the grade wanted.",
        outside_text="The car does not start on the grade wanted.",
        remedy="Use a lower first ratio, or a motor and inverter with more torque from rest; where tyre grip ends it, more weight on the driven axle.",
        sources=OWN,
        applies=asks_for("goals.start_grade"),
        skip_reason="no starting grade is asked for",
    ),
)
