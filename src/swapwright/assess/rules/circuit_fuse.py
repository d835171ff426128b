"""Fuses: voltage, breaking capacity, load, nuisance opening, weak faults, order of opening."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.assess.context import Context, Subject
from swapwright.assess.rules.compare import compare_each, devices
from swapwright.build.circuit import model
from swapwright.standards.fuses import DISCRIMINATION_SHARE, OCCASIONAL_SHARE, REPEATED_SHARE
from swapwright.standards.margins import NO_BAND

FUSES = devices(model.FUSE)
NO_FUSE = "the circuit has no fuse"
SHEET = ("part-data-sheet",)
LOOP = ("kirchhoff-current-law",)


def with_figure(
    over: Callable[[Context], tuple[Subject, ...]], figure: str
) -> Callable[[Context], tuple[Subject, ...]]:
    """Return the devices of a list of which a figure is made, or could not be."""

    def some(context: Context) -> tuple[Subject, ...]:
        book = context.book
        return tuple(
            each
            for each in over(context)
            if each.resolve(figure) in book.values or each.resolve(figure) in book.missing
        )

    return some


RULES = (
    compare_each(
        "circuit.fuse_voltage",
        FUSES,
        subject="hv.main_fuse",
        value="pack.max_working_voltage",
        limit="circuit.{slug}.permitted_voltage",
        sense="at_most",
        outside="stop",
        inside_text="Rated for the highest dc voltage of the pack, at the L/R of its strongest fault.",
        outside_text="Rated for less dc voltage than the pack can have: it melts and the arc goes on burning.",
        remedy="Fit a fuse whose dc voltage is at least the pack's highest, charging and regenerating; an ac rating does not count.",
        sources=("fuse-voltage-time-constant-typical",),
        skip_reason=NO_FUSE,
        watch=NO_BAND,
        rests_on=(":voltage",),
    ),
    compare_each(
        "circuit.fuse_breaking",
        FUSES,
        subject="hv.main_fuse",
        value="circuit.{slug}.breaking_duty",
        limit=":breaking",
        sense="at_most",
        outside="stop",
        inside_text="Breaks the strongest short circuit that the pack, and a link before it, can drive through it.",
        outside_text="A short circuit on a full, warm pack, with what the link adds, is stronger than it can break: it bursts.",
        remedy="Fit a fuse with more dc breaking capacity.",
        sources=LOOP,
        skip_reason=NO_FUSE,
    ),
    compare_each(
        "circuit.fuse_time_constant",
        with_figure(FUSES, "circuit.{slug}.time_constant"),
        subject="hv.main_fuse",
        value="circuit.{slug}.time_constant",
        limit=":time_constant",
        sense="at_most",
        outside="fix",
        inside_text="Its dc ratings hold at the L/R of its strongest fault.",
        outside_text="Its dc ratings were tested at a smaller L/R than that of its strongest fault: they do not hold here.",
        remedy="Fit a fuse tested at a larger L/R, or one of more dc voltage; lay plus and minus close together.",
        sources=SHEET,
        skip_reason="no fuse's data sheet says at which L/R its ratings hold",
    ),
    compare_each(
        "circuit.fuse_continuous",
        FUSES,
        subject="hv.main_fuse",
        value="circuit.{slug}.current",
        limit="circuit.{slug}.allowed",
        sense="at_most",
        outside="fix",
        inside_text="Carries what flows for good, in the heat where it stands and coming and going.",
        outside_text="Carries more for good than it should in the heat where it stands: it ages and opens one day without a fault.",
        remedy="Fit the next larger fuse if the cable behind it allows, move it out of the heat, or draw less.",
        sources=("semiconductor-fuse-guide-ambient", "fuse-cyclic-typical"),
        skip_reason=NO_FUSE,
        rests_on=(":rating",),
    ),
    compare_each(
        "circuit.fuse_peak",
        FUSES,
        subject="hv.main_fuse",
        value="circuit.{slug}.peak_of_melting",
        limit=OCCASIONAL_SHARE,
        sense="at_most",
        outside="fix",
        inside_text="Peak current for ten seconds stays well below what melts it.",
        outside_text="Peak current for ten seconds comes too near to what melts it.",
        remedy="Limit the current, or fit a larger fuse with a cable to match.",
        sources=("semiconductor-fuse-guide-overload",),
        skip_reason=NO_FUSE,
    ),
    compare_each(
        "circuit.fuse_hard",
        with_figure(FUSES, "circuit.{slug}.hard_of_melting"),
        subject="hv.main_fuse",
        value="circuit.{slug}.hard_of_melting",
        limit=OCCASIONAL_SHARE,
        sense="at_most",
        outside="fix",
        inside_text="The climb and full throttle, run through its melting curve, stay well below what melts it.",
        outside_text="The climb or full throttle, run through its melting curve, come too near to what melts it.",
        remedy="Limit how long peak current lasts, or fit a larger fuse with a cable to match.",
        sources=("semiconductor-fuse-guide-overload", "fuse-melting-network"),
        skip_reason="no fuse carries a current that comes and goes",
    ),
    compare_each(
        "circuit.fuse_repeated",
        with_figure(FUSES, "circuit.{slug}.run_of_melting"),
        subject="hv.main_fuse",
        value="circuit.{slug}.run_of_melting",
        limit=REPEATED_SHARE,
        sense="at_most",
        outside="fix",
        inside_text="Everyday driving, run through its melting curve, leaves it cool enough to last.",
        outside_text="Everyday driving, run through its melting curve, tires it: it opens one day without a fault.",
        remedy="Fit a larger fuse with a cable to match, or limit the current.",
        sources=("semiconductor-fuse-guide-overload", "fuse-melting-network"),
        skip_reason=NO_FUSE,
    ),
    compare_each(
        "circuit.fuse_minimum",
        FUSES,
        subject="hv.main_fuse",
        value="circuit.{slug}.least_fault",
        limit="circuit.{slug}.sure_current",
        sense="at_least",
        outside="stop",
        inside_text="Even a nearly empty, cold pack drives enough through a dead short to open it within seconds.",
        outside_text="A dead short on a nearly empty, cold pack is too weak to open it within seconds: it goes on burning.",
        remedy="Fit a smaller or a faster fuse, a full-range one, or have the pack monitor open the contactors on that current and prove that they can break it.",
        sources=("fuse-curve-tolerance-typical", *LOOP),
        skip_reason=NO_FUSE,
        place="circuit.{slug}.least_fault",
    ),
    compare_each(
        "circuit.fuse_discrimination",
        with_figure(FUSES, "circuit.{slug}.discrimination"),
        subject="hv.branch",
        value="circuit.{slug}.discrimination",
        limit=DISCRIMINATION_SHARE,
        sense="at_most",
        outside="fix",
        inside_text="Opens alone: what it lets through does not tire the fuse before it.",
        outside_text="A fault behind it can open the fuse before it as well, and stop the car.",
        remedy="Fit a smaller branch fuse, or a larger main fuse if its cable allows.",
        sources=("fuse-discrimination-practice",),
        skip_reason="no fuse stands behind another",
    ),
)
