"""Did you mean: the likeliest valid spelling of what somebody wrote."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.base.alias import meant_by

SHORT = 4
CLOSE, CLOSE_WHEN_SHORT = 0.72, 0.6
"""How alike two words must be; a short word changes more with one letter."""


def nearest(given: str, choices: Iterable[str]) -> str:
    """Return the choice most like ``given``, or an empty text where none is close.

    A difference of upper and lower case alone always counts as close; a word of the trade stands
    for what a file calls the thing (``tires`` for tyres).
    """
    from difflib import get_close_matches

    folded: dict[str, str] = {}
    for choice in choices:
        folded.setdefault(choice.casefold(), choice)
    wanted = given.strip().casefold()
    for word in (wanted, *meant_by(wanted)):
        if word in folded:
            return folded[word]
    cutoff = CLOSE_WHEN_SHORT if len(wanted) <= SHORT else CLOSE
    found = get_close_matches(wanted[:200], folded, n=1, cutoff=cutoff)
    return folded[found[0]] if found else ""
