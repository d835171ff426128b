"""An assessment as a person reads it: what is wrong first, then the numbers, then the rest."""

from __future__ import annotations

from datetime import date

from swapwright.assess.assessment import Assessment
from swapwright.base.finding import SEVERITY, Verdict
from swapwright.build.revision import short
from swapwright.cli.console import COLOURS, Console
from swapwright.cli.finding_text import write_findings, write_unknown
from swapwright.cli.headline_text import write_headline
from swapwright.cli.page import Page, some
from swapwright.jobs import headline
from swapwright.jobs.assumptions import assumed_inputs, assumed_of, told_first
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import count_by_kind, defaults_under
from swapwright.jobs.lacking import as_written, fill_next
from swapwright.jobs.sources import used_sources

NOT_JUDGED = "; not judged"
MOST_TO_FILL = 8


def page_of(console: Console, checked: Checked, profile: str, *, with_names: bool = False) -> Page:
    """Return the page of a car."""
    assessment = checked.assessment
    made = (each for each in headline.headline_ids() if each in assessment.figures)
    return Page(
        console,
        checked,
        profile,
        defaults_under(assessment, checked.opened.car, made),
        headline.out_of_reach(assessment),
        with_names,
    )


def write_check(
    page: Page, today: date, *, in_full: bool = False, with_sources: bool = False
) -> None:
    """Write the whole page of one car."""
    _title(page)
    _counts(page)
    write_findings(page, *_FIRST, in_full=in_full, with_sources=with_sources)
    if page.checked.assessment.count("unknown"):
        _fill_next(page)
        write_unknown(page, "Unknown until it is filled in")
    write_headline(page)
    for verdicts, heading in (_AFTER, *((_MET,) if in_full else ())):
        write_findings(page, verdicts, heading, in_full=in_full, with_sources=with_sources)
    if in_full:
        _assumed(page)
        _does_not_apply(page)
        _made_of(page)
    if with_sources:
        _sources(page, today)
    _closing(page, in_full=in_full)


_Section = tuple[tuple[Verdict, ...], str]
_FIRST: _Section = (("stop", "fix"), "To put right")
_AFTER: _Section = (("watch",), "To watch")
_MET: _Section = (("met",), "Met")


def _title(page: Page) -> None:
    car, assessment = page.car, page.checked.assessment
    mark = car.texts.get("car.mark", "")
    parts = [
        f"mark {mark}" if mark else "",
        f"revision {short(assessment.revision)}",
        f"region {assessment.region}" if assessment.region else "",
        f"data {assessment.data_version}",
    ]
    page.console.line(assessment.name or "a car without a name", bold=True)
    page.console.wrapped(", ".join([page.checked.opened.file, *filter(None, parts)]))


def _counts(page: Page) -> None:
    assessment = page.checked.assessment
    words = {"stop": "stops", "fix": "to fix", "unknown": "unknown", "watch": "to watch"}
    if assessment.count("stop") == 1:
        words["stop"] = "stop"
    counts = ", ".join(
        f"{assessment.count(verdict)} {words[verdict]}{_accepted(assessment, verdict)}"
        for verdict in SEVERITY
        if verdict in words
    )
    page.console.line(f"{counts}; {assessment.rules_run} rules run")
    if assessment.count("stop"):
        page.console.line(
            "this car must not be powered as drawn: see the stops",
            style=COLOURS["stop"],
            bold=True,
        )


def _accepted(assessment: Assessment, verdict: Verdict) -> str:
    count = sum(
        each.verdict == verdict and each.accepted is not None for each in assessment.findings
    )
    return f" ({count} accepted)" if count else ""


def _assumed(page: Page) -> None:
    assumed = assumed_of(page.checked.assessment)
    if assumed:
        page.console.heading(f"Assumed: {len(assumed)} inputs stand on a default")
        page.console.columns(
            [
                (each.path, each.text, each.label)
                for each in assumed_inputs(assumed, page.car, page.profile)
            ]
        )


def _does_not_apply(page: Page) -> None:
    """Write the rules that do not apply, by the reason."""
    reasons: dict[str, list[str]] = {}
    for each in page.checked.assessment.skipped:
        name, _, reason = each.partition(": ")
        if not reason.endswith(NOT_JUDGED):
            reasons.setdefault(reason, []).append(name)
    if reasons:
        page.console.heading("Rules that do not apply")
        for reason, names in reasons.items():
            page.console.wrapped(f"{reason}: {', '.join(names)}", indent=4, first="  ")


def _made_of(page: Page) -> None:
    from swapwright.physics.workings import ALL

    assessment = page.checked.assessment
    page.console.heading("In all")
    counts = ", ".join(f"{assessment.count(verdict)} {verdict}" for verdict in SEVERITY)
    page.console.line(f"  {assessment.rules_run} rules run: {counts}")
    total = len(assessment.figures)
    kinds = ", ".join(
        f"{count} {kind} ({100 * count / max(total, 1):.0f} %)"
        for kind, count in count_by_kind(assessment).items()
    )
    page.console.wrapped(f"{total} figures: {kinds}; {len(ALL)} formulas known", indent=2)


def _sources(page: Page, today: date) -> None:
    used = used_sources(page.checked.assessment, today)
    page.console.heading(f"Sources in use: {len(used)}")
    for each in used:
        source = each.source
        seen = "text seen" if source.seen else "from memory"
        old = "; confirm edition" if each.is_old else ""
        page.console.wrapped(
            f"{source.id}: {source.title}; {source.clause}; edition {source.edition or 'none'}; "
            f"{source.kind}, {seen}, as of {source.as_of}{old}",
            indent=4,
            first="  ",
        )


def _closing(page: Page, *, in_full: bool) -> None:
    """Write what the page stands on, what it leaves out, what more would give, and the caution."""
    console, assessment = page.console, page.checked.assessment
    console.line()
    assumed = assumed_of(assessment)
    if assumed and not in_full:
        first = told_first(assumed, page.car, page.profile)
        such = f" ({', '.join(first)}, ...)" if first else ""
        console.wrapped(f"assumed: {len(assumed)} inputs{such}: --all lists them", indent=2)
    systems = [
        each.partition(": ")[2].removesuffix(NOT_JUDGED)
        for each in assessment.skipped
        if each.endswith(NOT_JUDGED)
    ]
    if systems:
        console.wrapped(f"not judged: {'; '.join(systems)}", indent=2)
    wanted = some([each.path for each in fill_next(assessment, page.car)])
    if wanted:
        is_open = bool(assessment.count("unknown"))
        what = "to fill in next:" if is_open else "more figures would come of"
        console.wrapped(f"{what} {wanted}", indent=2)
    console.line()
    console.wrapped(headline.CAUTION)


def _fill_next(page: Page) -> None:
    """Write what to fill in next, most telling first; nothing where nothing typed would help."""
    wanted = fill_next(page.checked.assessment, page.car)
    if not wanted:
        return
    page.console.heading("Fill these next, and what each unlocks")
    page.console.columns(
        [
            (
                f"{number:>2}. {as_written(each.path)}",
                _waiting(each.figures, each.rules),
                each.label,
            )
            for number, each in enumerate(wanted[:MOST_TO_FILL], start=1)
        ]
    )
    if len(wanted) > MOST_TO_FILL:
        page.console.line(f"      and {len(wanted) - MOST_TO_FILL} more after these")


def _waiting(figures: int, rules: int) -> str:
    """Return how many figures and rules wait for an entry."""
    counts = ((figures, "figure"), (rules, "rule"))
    said = [f"{count} {word}{'' if count == 1 else 's'}" for count, word in counts if count]
    return ", ".join(said)
