"""Findings as a person reads them: the verdict, the measure, what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swapwright.base.finding import SEVERITY, Finding, Verdict
from swapwright.base.sources import all_sources
from swapwright.cli.console import COLOURS
from swapwright.cli.page import Page, some
from swapwright.jobs.lacking import typed
from swapwright.jobs.telling import against_limit

RULE_WIDTH = 27


def write_findings(
    page: Page, verdicts: Iterable[Verdict], heading: str, *, in_full: bool, with_sources: bool
) -> None:
    """Write the findings of some verdicts under a heading, and nothing where there are none.

    ``in_full`` adds what a finding assumes, ``with_sources`` where its rule comes from.
    """
    wanted = set(verdicts)
    found = [each for each in page.checked.assessment.findings if each.verdict in wanted]
    if not found:
        return
    page.console.heading(heading)
    found.sort(key=_severity)
    for finding, after in zip(found, [*found[1:], None], strict=True):
        write_finding(
            page,
            finding,
            in_full=in_full,
            with_sources=with_sources,
            with_remedy=after is None or not _is_remedied_alike(finding, after),
        )


def _is_remedied_alike(finding: Finding, after: Finding) -> bool:
    """Tell whether two findings of one rule have one remedy: it stands after the last of them."""
    return (finding.rule, finding.remedy) == (after.rule, after.remedy)


def _severity(finding: Finding) -> tuple[int, int]:
    """Return what findings are sorted by: the verdict, then what an *unknown* could be."""
    return SEVERITY.index(finding.verdict), SEVERITY.index(finding.could_be or finding.verdict)


def write_finding(
    page: Page,
    finding: Finding,
    *,
    in_full: bool,
    with_sources: bool,
    with_remedy: bool = True,
) -> None:
    """Write one finding; ``with_remedy`` unless the same one follows with the next."""
    console = page.console
    word = console.verdict(finding.verdict)
    if finding.verdict == "unknown":
        _write_unknown(page, [finding.rule], _open_question(page, finding))
        return
    indent = len(word) + 3
    console.line(f"  {word} {finding.rule}", style=COLOURS[finding.verdict], bold=True)
    console.wrapped(finding.text, indent=indent)
    told = against_limit(finding, page.checked.assessment.figures, page.profile)
    if told:
        console.wrapped(told, indent=indent)
    if finding.remedy and with_remedy:
        console.wrapped(finding.remedy, indent=indent)
    if finding.accepted is not None:
        accepted = finding.accepted
        until = f", until {accepted.until}" if accepted.until else ""
        console.wrapped(
            f"accepted by {accepted.by} on {accepted.date}{until}: {accepted.reason}", indent=indent
        )
    if in_full and finding.assumed:
        console.wrapped(f"assumed: {', '.join(finding.assumed)}", indent=indent)
    if with_sources and finding.sources:
        console.wrapped(f"source: {_source_words(page, finding)}", indent=indent)


def write_unknown(page: Page, heading: str) -> None:
    """Write what is unknown under a heading: what waits for the same entries, once."""
    found = [each for each in page.checked.assessment.findings if each.verdict == "unknown"]
    found.sort(key=_severity)
    waiting: dict[tuple[str | None, frozenset[str], str], list[Finding]] = {}
    for finding in found:
        alike = finding.could_be, frozenset(finding.needs), "" if finding.needs else finding.text
        waiting.setdefault(alike, []).append(finding)
    page.console.heading(heading)
    for each in waiting.values():
        rules = list(dict.fromkeys(finding.rule for finding in each))
        _write_unknown(page, rules, _open_question(page, each[0]))


def _write_unknown(page: Page, rules: Sequence[str], question: str) -> None:
    """Write one open question: beside the rule that waits for it, or below where it is longer."""
    console = page.console
    first = f"  {console.verdict('unknown')} "
    beside = f"{first}{rules[0]:<{RULE_WIDTH}} {question}"
    if len(rules) == 1 and len(beside) <= console.width:
        console.line(beside)
        return
    console.wrapped(", ".join(rules), indent=len(first), first=first)
    console.wrapped(question, indent=len(first) + 2)


def _open_question(page: Page, finding: Finding) -> str:
    """Return what an unknown could be, and what would settle it or stands in the way."""
    needs = typed(finding.needs, page.car, page.checked.assessment.missing)
    if needs:
        return f"could be a {finding.could_be}; needs {some(needs)}"
    return f"could be a {finding.could_be}. {finding.text}"


def _source_words(page: Page, finding: Finding) -> str:
    """Return where a finding's rule comes from; a part's own data by the part's name."""
    known = all_sources()
    words = []
    for each in finding.sources:
        part = _part_name(page, finding) if each == "part-data-sheet" else ""
        if part:
            words.append(f"the data of {part}")
        elif each in known:
            words.append(", ".join(filter(None, (known[each].title, known[each].clause))))
        else:
            words.append(each)
    return "; ".join(words)


def _part_name(page: Page, finding: Finding) -> str:
    """Return the name of the part whose data a finding judges by, empty where it is not one's."""
    for value in (finding.limit, finding.value):
        if value is not None and value.origin == "part":
            return value.ref.rpartition("/")[2]
    return page.car.part_names.get(finding.subject, "")
