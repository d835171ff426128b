"""Modules out of another vehicle: never met on the nameplate, only by what was measured."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.assess.context import Context, Rule, Subject
from swapwright.assess.rules.compare import compare, compare_each
from swapwright.assess.rules.word import said_rule
from swapwright.assess.stages.salvage import TESTED, layout_fault, strings_of, tested
from swapwright.base.errors import Missing
from swapwright.base.figure import Value
from swapwright.base.finding import Finding, Sense, Verdict
from swapwright.build.car import Car
from swapwright.standards.margins import NO_BAND
from swapwright.standards.salvage import (
    DROP_SPREAD,
    VOLTAGE_SPREAD,
)

ACCEPTED = ("used-module-acceptance",)
HISTORY = ("used-module-history",)
NOT_SALVAGED = "the file does not say that modules come out of another vehicle, and lists none that were measured"
NONE_MEASURED = "no modules were measured"
_SEVERITY: dict[str, Verdict] = {"unknown": "fix", "crash": "stop", "flood": "stop"}


def is_salvaged(car: Car) -> bool:
    """Tell whether a pack is made of modules out of another vehicle."""
    return car.flags.get("pack.salvaged", False) or car.counts.get(TESTED, 0) > 0


def _modules(context: Context) -> tuple[Subject, ...]:
    """List the modules that were measured; the list itself where there is none."""
    if not is_salvaged(context.car):
        return ()
    found = tuple(
        Subject(each.serial, f"{each.row}", f"{TESTED}[{each.row}]", each.entry)
        for each in tested(context.book)
    )
    return found or (Subject("the pack", "", TESTED, lambda name: f"{TESTED}[].{name}"),)


def _strings(context: Context) -> tuple[Subject, ...]:
    return tuple(
        Subject(f"string {number}", f"string_{number}", "pack.strings")
        for number in strings_of(tested(context.book))
    )


def _is_the_pack(context: Context) -> bool:
    """Tell whether the list of measured modules may be the pack; raise Missing without one."""
    modules = tested(context.book)
    if not modules:
        raise Missing(f"{TESTED}[].serial")
    return not layout_fault(context.book, modules)


def _history(context: Context, each: Subject) -> Iterable[Finding]:
    """Judge what is known of one module's vehicle."""
    word = context.car.text(each.entries("history"))
    verdict = _SEVERITY.get(word, "met")
    name = each.name[:1].upper() + each.name[1:]
    texts = {
        "met": "the vehicle it comes from is known, and was sound.",
        "fix": "nobody knows what the vehicle it comes from went through: crash, flood or abuse do not show from outside.",
        "stop": "it comes out of a crash or a flood: it may take fire days later, and is not used.",
    }
    remedies = {
        "met": "",
        "fix": "Find out by the vehicle's number and its fault memory, or leave the module out.",
        "stop": "Leave it out, keep it outdoors away from everything, and have it taken away as damaged.",
    }
    yield Finding(
        rule="salvage.history",
        subject=each.path,
        verdict=verdict,
        text=f"{name}: {texts[verdict]}",
        remedy=remedies[verdict],
        sources=HISTORY,
    )


def _measured(
    rule: str,
    value: str,
    limit: str | Value,
    sense: Sense,
    *,
    inside: str,
    outside: str,
    remedy: str,
) -> Rule:
    return compare(
        f"salvage.{rule}",
        subject=TESTED,
        value=value,
        limit=limit,
        sense=sense,
        outside="fix",
        inside_text=inside,
        outside_text=outside,
        remedy=remedy,
        sources=ACCEPTED,
        applies=is_salvaged,
        skip_reason=NOT_SALVAGED,
        watch=NO_BAND,
    )


RULES: tuple[Rule, ...] = (
    _measured(
        "tested",
        "salvage.listed",
        "salvage.wanted",
        "at_least",
        inside="Every module of the pack was measured by itself.",
        outside="Modules of the pack were not measured: a string is as good as the one nobody looked at.",
        remedy="Measure capacity, resistance and self-discharge of each, and list it under [[pack.tested]] with its serial.",
    ),
    Rule(
        id="salvage.history",
        subject=TESTED,
        worst="stop",
        sources=HISTORY,
        skip_reason=NOT_SALVAGED,
        remedy="Give pack.tested[].history for each module.",
        over=_modules,
        judge_one=_history,
    ),
    _measured(
        "health",
        "pack.health",
        "salvage.health",
        "at_most",
        inside="Range and energy count on no more capacity than the weakest modules have.",
        outside="Range and energy count on more capacity than the weakest modules have: the nameplate is not what is there.",
        remedy="Set pack.health to the measured share, or change the weakest modules for better ones.",
    ),
    _measured(
        "resistance",
        "salvage.resistance",
        "pack.resistance",
        "at_most",
        inside="The measured modules have no more resistance than sag and power are worked out with.",
        outside="The measured modules have more resistance than sag and power are worked out with: they sag deeper, get hotter and give less.",
        remedy="Write the measured resistance into the module's own data (its cell's r0, r1, r2), or change the worst modules.",
    ),
    compare_each(
        "salvage.least_capacity",
        _modules,
        subject=TESTED,
        value=":capacity",
        limit="salvage.least_allowed",
        sense="at_least",
        outside="fix",
        inside_text="It keeps the share of its capacity that used modules are taken with.",
        outside_text="It has lost more of its capacity than used modules are taken with.",
        remedy="Leave it out, or put the weak ones together in one string: swapwright modules shows how.",
        sources=ACCEPTED,
        skip_reason=NOT_SALVAGED,
        watch=NO_BAND,
    ),
    compare_each(
        "salvage.resistance_spread",
        _modules,
        subject=TESTED,
        value=":resistance",
        limit="salvage.resistance_allowed",
        sense="at_most",
        outside="fix",
        inside_text="Its resistance does not stand out from the others'.",
        outside_text="Its resistance stands out from the others': it heats and sags before them.",
        remedy="Check its joints and measure again at the same temperature; where it stays, leave it out.",
        sources=ACCEPTED,
        skip_reason=NOT_SALVAGED,
        watch=NO_BAND,
    ),
    _measured(
        "self_discharge",
        "salvage.drop_spread",
        DROP_SPREAD,
        "at_most",
        inside="At rest the modules lose their voltage alike.",
        outside="At rest one module loses its voltage faster than another: balancing never catches up, or something leaks inside it.",
        remedy="Leave the one that falls most out, and keep it where a fire harms nobody until it is known why.",
    ),
    _measured(
        "voltage_spread",
        "salvage.cell_voltage_spread",
        VOLTAGE_SPREAD,
        "at_most",
        inside="The modules go in at about the same voltage.",
        outside="The modules go in at unlike voltages: the fullest ends every charge and the emptiest every drive.",
        remedy="Charge or discharge each to the same voltage before they are joined; flat curves tell little, so fill each to its top.",
    ),
    compare(
        "salvage.insulation",
        subject=TESTED,
        value="salvage.insulation",
        limit="isolation.required",
        sense="at_least",
        outside="stop",
        inside_text="Measured again, the modules' insulation to their cases, all side by side, is more than the whole car has to have.",
        outside_text="The modules' insulation to their cases, all side by side, is less than the whole car has to have: each leaks a little, and the leaks add up.",
        remedy="Dry and clean the worst and measure again; coolant or crash damage inside does not come right.",
        sources=ACCEPTED,
        applies=is_salvaged,
        skip_reason=NOT_SALVAGED,
    ),
    said_rule(
        "salvage.layout",
        TESTED,
        _is_the_pack,
        outside="stop",
        inside_text="The list of measured modules has the strings and the length of the pack.",
        outside_text="The list of measured modules is not the pack of this file: a serial stands twice, a string is not there, or strings are of unlike length and would drive a current into each other.",
        remedy="Give each module once, with the string it sits in, as many in series in each as pack.modules_per_string says.",
        sources=("kirchhoff-current-law",),
        applies=is_salvaged,
        skip_reason=NOT_SALVAGED,
    ),
    compare_each(
        "salvage.string_current",
        _strings,
        subject="pack.strings",
        value="salvage.{slug}.current",
        limit="salvage.string_current_allowed",
        sense="at_most",
        outside="stop",
        inside_text="Strings share the current by their resistance, and this one's part is within what its cells allow.",
        outside_text="Strings share the current by their resistance, and this one's part is more than its cells allow.",
        remedy="Make the strings alike by swapping modules between them, or lower the inverter's current.",
        sources=("kirchhoff-current-law",),
        skip_reason=NONE_MEASURED,
    ),
)
