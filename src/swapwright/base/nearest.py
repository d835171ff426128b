"""Did you mean: the likeliest valid spelling of what somebody wrote."""

from __future__ import annotations

from collections.abc import Iterable


def nearest(given: str, choices: Iterable[str]) -> str:
    """Return the choice most like ``given``, or an empty text where none is close.

    A difference of upper and lower case alone always counts as close.
    """
    from difflib import get_close_matches

    folded: dict[str, str] = {}
    for choice in choices:
        folded.setdefault(choice.casefold(), choice)
    wanted = given.strip().casefold()
    if wanted in folded:
        return folded[wanted]
    found = get_close_matches(wanted[:200], folded, n=1, cutoff=0.6)
    return folded[found[0]] if found else ""
