"""The wires of the 12 V side: a fuse that lasts and protects its wire, and the voltage lost."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import compare, compare_each
from swapwright.base.errors import Missing
from swapwright.base.finding import Finding
from swapwright.standards.low_voltage import DROP_SHARE
from swapwright.standards.margins import NO_BAND

AMPACITY = ("vde-0298-4-2023-table-11", "conductor-square-law")
CONTINUOUS = ("iso-8820-3-continuous",)
DROP = ("lv-drop-practice",)

THINNER_FUSE = "Fit a smaller fuse, or a thicker wire; the fuse stands where the wire begins."
LARGER_FUSE = "Fit the next larger fuse, and see that the wire still bears it."
THICKER_WIRE = (
    "Fit a thicker wire, or shorten the way; feed a large load through a relay beside it."
)
NO_LOADS = "the file lists no load of the 12 V side"
NO_WIRES = "no load says anything of its wire"


def _run(slug: str, what: str) -> tuple[Rule, ...]:
    """Return the rules of one of the two main runs."""
    at = f"lv.{slug}"
    return (
        compare(
            f"lv.{slug}_protected",
            subject=at,
            value=f"{at}.fuse",
            limit=f"{at}.ampacity",
            sense="at_most",
            outside="stop",
            inside_text=f"The fuse of {what} melts before its cable burns.",
            outside_text=f"The fuse of {what} is larger than its cable bears: the cable is the fuse.",
            remedy=THINNER_FUSE,
            sources=AMPACITY,
            watch=NO_BAND,
        ),
        compare(
            f"lv.{slug}_fuse",
            subject=at,
            value=f"{at}.fuse",
            limit=f"{at}.fuse_wanted",
            sense="at_least",
            outside="fix",
            inside_text=f"The fuse of {what} carries its current for good.",
            outside_text=f"The fuse of {what} ages at the current it carries, and one day the whole side goes dark.",
            remedy=LARGER_FUSE,
            sources=CONTINUOUS,
            watch=NO_BAND,
        ),
        compare(
            f"lv.{slug}_drop",
            subject=at,
            value=f"{at}.drop_share",
            limit=DROP_SHARE,
            sense="at_most",
            outside="watch",
            inside_text=f"Little voltage is lost in {what}.",
            outside_text=f"Much voltage is lost in {what}: lamps are dim and coils are held badly behind it.",
            remedy=THICKER_WIRE,
            sources=DROP,
            watch=NO_BAND,
        ),
    )


def loads(context: Context) -> tuple[Subject, ...]:
    """Return every load of the list."""
    found = []
    for row in range(context.car.counts.get("lv.load", 0)):
        at = f"lv.load[{row}]"
        name = context.car.texts.get(f"{at}.name", at)
        found.append(Subject(name, f"load.{row}", at, lambda key, at=at: f"{at}.{key}"))  # type: ignore[misc]
    return tuple(found)


def wired_loads(context: Context) -> tuple[Subject, ...]:
    """Return the loads that say something of their wire or their fuse."""
    return tuple(
        load
        for load in loads(context)
        if any(context.has(load.entries(key)) for key in ("wire", "length", "fuse"))
    )


def asks_both(rule: Rule) -> Rule:
    """Return a rule of a load that asks for fuse and wire at once where it lacks both."""
    inner = rule.judge_one

    def judge_one(context: Context, each: Subject) -> Iterable[Finding]:
        both = each.entries("fuse"), each.entries("wire")
        if not any(context.has(path) for path in both):
            raise Missing(*both)
        return () if inner is None else inner(context, each)

    return replace(rule, judge_one=judge_one)


LOADS = (
    asks_both(
        compare_each(
            "lv.load_protected",
            loads,
            subject="lv.load",
            value=":fuse",
            limit="lv.{slug}.ampacity_alone",
            sense="at_most",
            outside="stop",
            inside_text="The fuse melts before the wire burns.",
            outside_text="The fuse is larger than the wire bears even alone in the air: the wire is the fuse.",
            remedy=THINNER_FUSE,
            sources=AMPACITY,
            skip_reason=NO_LOADS,
            watch=NO_BAND,
        )
    ),
    compare_each(
        "lv.load_in_loom",
        wired_loads,
        subject="lv.load",
        value=":fuse",
        limit="lv.{slug}.ampacity",
        sense="at_most",
        outside="watch",
        inside_text="The fuse protects the wire among other loaded wires too.",
        outside_text="The fuse is larger than the wire bears in a loom whose other wires are loaded: car makers fuse so where they know the loom, and here nobody has measured it.",
        remedy=f"{THINNER_FUSE} Or lead the wire by itself.",
        sources=(*AMPACITY, "lv-loom-practice"),
        skip_reason=NO_WIRES,
        watch=NO_BAND,
    ),
    compare_each(
        "lv.load_fuse",
        wired_loads,
        subject="lv.load",
        value=":fuse",
        limit="lv.{slug}.fuse_wanted",
        sense="at_least",
        outside="fix",
        inside_text="The fuse carries the load for good.",
        outside_text="The fuse ages at the current it carries, and blows one day for no fault.",
        remedy=LARGER_FUSE,
        sources=CONTINUOUS,
        skip_reason=NO_WIRES,
        watch=NO_BAND,
    ),
    compare_each(
        "lv.load_drop",
        wired_loads,
        subject="lv.load",
        value="lv.{slug}.drop_share",
        limit=DROP_SHARE,
        sense="at_most",
        outside="watch",
        inside_text="Little voltage is lost on the way.",
        outside_text="Much voltage is lost on the way.",
        remedy=THICKER_WIRE,
        sources=DROP,
        skip_reason=NO_WIRES,
        watch=NO_BAND,
    ),
)

RULES: tuple[Rule, ...] = (
    *_run("main", "the run from the battery to the fuse box"),
    *_run("feed", "the run from the converter to the battery"),
    *LOADS,
)
