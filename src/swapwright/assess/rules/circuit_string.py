"""Strings side by side: what flows between them when they are joined."""

from __future__ import annotations

from swapwright.assess.circuit.string import joined_strings
from swapwright.assess.context import Context, Subject
from swapwright.assess.rules.circuit_fuse import with_figure
from swapwright.assess.rules.compare import compare_each
from swapwright.build.circuit.model import slug


def _strings(context: Context) -> tuple[Subject, ...]:
    return tuple(
        Subject(each.name, slug(each.name), "hv.join_difference")
        for each in joined_strings(context.book.circuit)
    )


RULES = (
    compare_each(
        "circuit.join_current",
        with_figure(_strings, "circuit.{slug}.join_current"),
        subject="hv.join_difference",
        value="circuit.{slug}.join_current",
        limit="circuit.{slug}.join_allowed",
        sense="at_most",
        outside="stop",
        inside_text="Joined to the other strings at the largest voltage allowed between them, it takes what flows.",
        outside_text="Joined to the other strings at the largest voltage allowed between them, more flows than its cells may be charged with.",
        remedy="Allow a smaller voltage between strings before their contactors close, and bring them together by charging the lower one by itself; voltage alone says little of the charge of iron phosphate cells.",
        sources=("kirchhoff-current-law",),
        skip_reason="no strings are joined side by side",
    ),
)
