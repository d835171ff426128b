"""Between which two places a limit is reached: false position by Illinois, halved now and then."""

from __future__ import annotations

from typing import NamedTuple

from swapwright.physics.compiled import inlined

HALVE_EVERY = 3
"""Rounds: false position is quick where what is spare is smooth, a halving sure where it jumps."""


class Bracket(NamedTuple):
    """A place where something is left, ``low``, one where too much is asked, ``high``, and both.

    ``under`` is what is spare at the low end, ``over`` (negative) at the high end; ``was_low`` and
    ``was_high`` tell which end moved last: the one that stays put twice counts half.
    """

    low: float
    high: float
    under: float
    over: float
    was_low: bool
    was_high: bool


@inlined
def next_place(bracket: Bracket, number: int) -> float:
    """Return the place to look at in a round of this number, from 0 on."""
    if number % HALVE_EVERY == HALVE_EVERY - 1:
        return 0.5 * (bracket.low + bracket.high)
    width = bracket.high - bracket.low
    return bracket.low + width * bracket.under / (bracket.under - bracket.over)


@inlined
def narrowed(bracket: Bracket, place: float, spare: float) -> Bracket:
    """Return the bracket with the end moved that a place with so much to spare stands for."""
    if spare >= 0.0:
        over = bracket.over * (0.5 if bracket.was_low else 1.0)
        return Bracket(place, bracket.high, spare, over, True, False)
    under = bracket.under * (0.5 if bracket.was_high else 1.0)
    return Bracket(bracket.low, place, under, spare, False, True)
