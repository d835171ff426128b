"""What a section is, in words: live or not, from where, and what has to have welded for it."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.circuit.section import Reach, SectionState

ONE_POLE = "one pole joined"


def cell_words(state: SectionState) -> str:
    """Return a section's word, and whether a source still stands on one pole of it."""
    return f"{state.word}, {ONE_POLE}" if state.one_pole else state.word


def state_words(state: SectionState) -> str:
    """Return a section's word and every source that can reach it."""
    sources = ", ".join(reach_words(each) for each in state.reached_by)
    words = f"{state.word}: {sources}" if sources else state.word
    if state.stores and state.word != "stored charge":
        words += f"; charge is stored in {', '.join(state.stores)}"
    elif state.stores:
        words += f" in {', '.join(state.stores)}"
    charges = "; ".join(_together(state.charges))
    if charges and state.word == "stored charge" and not state.stores:
        words += f" from {charges}"
    elif charges:
        words += f"; charge can reach it from {charges}"
    if state.one_pole:
        words += f"; on one pole: {', '.join(state.one_pole)}"
    return words


def reach_lines(state: SectionState) -> tuple[str, ...]:
    """Return every way a source or a charge reaches a section, one line each."""
    lines = [reach_words(each) for each in state.reached_by]
    if state.stores:
        lines.append(f"charge is stored in {', '.join(state.stores)}")
    lines += [f"charge can reach it from {each}" for each in _together(state.charges)]
    if state.one_pole:
        lines.append(f"on one pole: {', '.join(state.one_pole)}")
    return tuple(lines)


def emptying_words(paths: tuple[str, ...]) -> str:
    """Return what empties a section that holds charge, and what it means where that is open."""
    if not paths:
        return "nothing in the file empties it: the charge stays"
    if len(paths) == 1:
        return f"emptied by {paths[0]} alone: where that is open the charge stays"
    return (
        f"emptied by {' and '.join(paths)}: the waiting time counts the most helpful one as open; "
        "where all are open the charge stays"
    )


def reach_words(reach: Reach) -> str:
    """Return a source, and which open contactors would have to be welded for it to reach."""
    if not reach.welded:
        return reach.source
    if reach.through_one:
        return f"{reach.source} if {' or '.join(reach.welded)} has welded"
    return f"{reach.source} if {' and '.join(reach.welded)} have welded"


def _together(charges: Iterable[Reach]) -> list[str]:
    """Return capacitors that come the same way as one."""
    ways: dict[tuple[tuple[str, ...], bool], list[str]] = {}
    for each in charges:
        ways.setdefault((each.welded, each.through_one), []).append(each.source)
    return [
        reach_words(Reach(", ".join(names), welded, through_one))
        for (welded, through_one), names in ways.items()
    ]
