"""An assessment as a person reads it: headline numbers, findings, and what they leave open."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from swapwright.base.display import WORLDS
from swapwright.base.figure import Figure
from swapwright.base.finding import SEVERITY, Finding, Verdict
from swapwright.base.quantity import show
from swapwright.base.sources import all_sources
from swapwright.build.revision import short
from swapwright.cli.console import COLOURS, Console
from swapwright.jobs import headline
from swapwright.jobs.check import Checked, is_open
from swapwright.jobs.grounds import (
    assumed_under,
    count_by_kind,
    figure_kind,
    finding_kind,
    value_text,
)
from swapwright.jobs.sources import used_sources

ASSUMED = "assumed"
NOT_JUDGED = "; not judged"
_SENSES = {"at_most": "at most", "at_least": "at least", "within": "within"}


@dataclass(frozen=True)
class _Page:
    """What every part of the page needs: where to write, the car, and how numbers are shown."""

    console: Console
    checked: Checked
    profile: str
    under: Mapping[str, frozenset[str]]

    def figure(self, figure_id: str) -> Figure | None:
        return self.checked.assessment.figures.get(figure_id)

    def text(self, figure_id: str) -> str:
        """Return a figure's text with its band, or the word for what it stands on."""
        figure = self.figure(figure_id)
        if figure is None:
            return self.reason(figure_id)
        text = value_text(figure.value, figure_kind(figure), self.profile)
        is_assumed = self.under[figure_id] and not figure.value.is_uncertain
        return f"{text}  {ASSUMED}" if is_assumed else text

    def engine_text(self, figure_id: str) -> str:
        """Return a figure in engine terms, without the band its electric form has."""
        figure = self.figure(figure_id)
        if figure is None:
            return ""
        return show(figure.value.si, figure_kind(figure), profile=self.profile, world="engine")

    def reason(self, figure_id: str) -> str:
        """Return why a figure is not there."""
        needs = self.checked.assessment.missing.get(figure_id, ())
        return f"unknown: {needs[0]}" if needs else "unknown"

    def lacks(self, figure_ids: Iterable[str]) -> bool:
        """Write what would give these figures, once, where none of them is there."""
        ids = tuple(figure_ids)
        if any(self.figure(figure_id) is not None for figure_id in ids):
            return False
        missing = self.checked.assessment.missing
        needs = dict.fromkeys(path for each in ids for path in missing.get(each, ()))
        self.console.wrapped(f"unknown; would give it: {_some(tuple(needs))}", indent=2)
        return True

    def both(self, figure_id: str) -> str:
        """Return a figure's text in electric and in engine terms."""
        figure = self.figure(figure_id)
        if figure is None:
            return self.reason(figure_id)
        text, engine = self.text(figure_id), self.engine_text(figure_id)
        plain = show(figure.value.si, figure_kind(figure), profile=self.profile)
        return text if engine == plain else text.replace(plain, f"{plain} = {engine}", 1)

    def entry(self, path: str, kind: str) -> str:
        """Return an entry's text, empty where the build does not give it."""
        value = self.checked.opened.car.get(path)
        return "" if value is None else value_text(value, kind, self.profile)


def _some(paths: Sequence[str], most: int = 5) -> str:
    """Return the first few of some paths, and how many more there are."""
    rest = len(paths) - most
    more = f" and {rest} more" if rest > 0 else ""
    return ", ".join(paths[:most]) + more


def _told(figure: Figure, page: _Page) -> str:
    return value_text(figure.value, figure_kind(figure), page.profile)


def _both(power: float, profile: str) -> str:
    worlds = [show(power, "power", profile=profile, world=each) for each in WORLDS]
    return " = ".join(worlds)


def write_check(
    console: Console,
    checked: Checked,
    profile: str,
    today: date,
    *,
    with_met: bool,
    with_sources: bool,
) -> None:
    """Write the whole page of one car."""
    page = _Page(console, checked, profile, assumed_under(checked.assessment.figures))
    _title(page)
    _ranges(page)
    _road(page)
    _pack(page)
    _weight(page)
    _findings(page, with_met=with_met)
    _not_made(page)
    _assumed(page)
    _skipped(page)
    if with_sources:
        _sources(page, today)
    _counts(page)
    console.line()
    console.wrapped(headline.CAUTION)


def _title(page: _Page) -> None:
    car, assessment = page.checked.opened.car, page.checked.assessment
    mark = car.texts.get("car.mark", "")
    parts = [
        assessment.name or "a car without a name",
        f"mark {mark}" if mark else "",
        f"revision {short(assessment.revision)}",
        f"region {assessment.region}" if assessment.region else "",
        f"data {assessment.data_version}",
    ]
    page.console.line(parts[0], bold=True)
    page.console.wrapped(", ".join([page.checked.opened.file, *filter(None, parts[1:])]))


def _ranges(page: _Page) -> None:
    page.console.heading("Range, new pack")
    if page.lacks(row.range for row in headline.RANGES):
        return
    rows = [("", "range", "from the battery", "the same as fuel")]
    for row in headline.RANGES:
        if row.range == "range.at_goal_speed" and page.figure(row.range) is None:
            continue
        fuel = page.engine_text(row.consumption)
        rows.append((row.label, page.text(row.range), page.text(row.consumption), fuel))
    for label, figure_id in headline.WALL:
        fuel = page.engine_text(figure_id)
        rows.append((label, "", page.text(figure_id), fuel))
    before = page.entry("car.engine_before.fuel", "fuel_consumption")
    if before:
        rows.append(("with the engine it had", "", "", before))
    page.console.columns(rows)


def _road(page: _Page) -> None:
    page.console.heading("On the road")
    if page.lacks(figure_id for _, figure_id in headline.ROAD):
        return
    rows = [(label, page.both(figure_id)) for label, figure_id in headline.ROAD]
    power = page.checked.opened.car.get("car.engine_before.power")
    if power is not None:
        rows.append(("engine it had", _both(power.si, page.profile)))
    page.console.columns(rows)


def _pack(page: _Page) -> None:
    page.console.heading("Pack")
    if page.lacks((*headline.VOLTAGES, *(figure_id for _, figure_id in headline.PACK))):
        return
    rows = [(label, page.both(figure_id)) for label, figure_id in headline.PACK]
    window = [page.figure(figure_id) for figure_id in headline.VOLTAGES]
    empty, nominal, full = ("unknown" if each is None else _told(each, page) for each in window)
    rows.append(("voltage", f"{empty} empty, {nominal} nominal, {full} full"))
    rows.append(("maximum working voltage", page.text(headline.MAX_WORKING_VOLTAGE)))
    counts = [page.figure(figure_id) for figure_id in headline.CELLS]
    series, parallel, cells = (None if each is None else f"{each.value.si:.0f}" for each in counts)
    if cells is not None:
        rows.append(("cells", f"{cells}: {series} in series, {parallel} in parallel"))
    page.console.columns(rows)


def _weight(page: _Page) -> None:
    page.console.heading("Weight")
    rows = [("", "donor", "converted", "loaded", "allowed")]
    for row in headline.WEIGHTS:
        rows.append(
            (
                row.label,
                page.entry(row.before, "mass"),
                page.text(row.after),
                page.text(row.loaded),
                page.entry(row.limit, "mass") or "not given",
            )
        )
    page.console.columns(rows)


def _findings(page: _Page, *, with_met: bool) -> None:
    found = page.checked.assessment.findings
    shown = [finding for finding in found if with_met or finding.verdict != "met"]
    shown.sort(key=_severity)
    page.console.heading("Findings")
    for finding in shown:
        _finding(page, finding)
    if not shown:
        page.console.line("  none beside those met (--all shows them)")


def _severity(finding: Finding) -> tuple[int, int]:
    """Return what findings are sorted by: the verdict, then what an *unknown* could be."""
    return SEVERITY.index(finding.verdict), SEVERITY.index(finding.could_be or finding.verdict)


def _finding(page: _Page, finding: Finding) -> None:
    console = page.console
    word = console.verdict(finding.verdict)
    indent = len(word) + 3
    console.line(f"  {word} {finding.rule}", style=COLOURS[finding.verdict], bold=True)
    if finding.verdict == "unknown":
        needs = _some(finding.needs) or "nothing known"
        console.wrapped(f"could be a {finding.could_be}; would settle it: {needs}", indent=indent)
        return
    console.wrapped(finding.text, indent=indent)
    measured = _measured(page, finding)
    if measured:
        console.wrapped(measured, indent=indent)
    if finding.remedy:
        console.wrapped(finding.remedy, indent=indent)
    if finding.accepted is not None:
        accepted = finding.accepted
        until = f", until {accepted.until}" if accepted.until else ""
        console.wrapped(
            f"accepted by {accepted.by} on {accepted.date}{until}: {accepted.reason}", indent=indent
        )
    if finding.assumed:
        console.wrapped(f"assumed: {', '.join(finding.assumed)}", indent=indent)
    if finding.sources:
        console.wrapped(f"source: {_source_words(finding.sources)}", indent=indent)


def _measured(page: _Page, finding: Finding) -> str:
    """Return value, limit and margin in one line."""
    kind = finding_kind(finding, page.checked.assessment.figures)
    value, limit = finding.value, finding.limit
    if value is None or limit is None:
        return "" if value is None else value_text(value, kind, page.profile)
    texts = [value_text(each, kind, page.profile) for each in (value, limit)]
    if texts[0] == texts[1] and value.si != limit.si:
        texts = [show(each.si, kind, profile=page.profile, digits=5) for each in (value, limit)]
    told = f"{texts[0]}, {_SENSES[finding.sense]} {texts[1]}"
    if finding.margin is None:
        return told
    side = "inside" if finding.margin >= 0.0 else "outside"
    return f"{told}: {_distance(page, finding, kind)} {side}"


def _distance(page: _Page, finding: Finding, kind: str) -> str:
    """Return how far a value is from its limit: a share, or degrees, where a share says nothing."""
    if kind == "temperature" and finding.value and finding.limit:
        apart = abs(finding.limit.si - finding.value.si)
        return show(apart, "temperature_difference", profile=page.profile, digits=2)
    return show(abs(finding.margin or 0.0), "fraction", digits=2)


def _source_words(ids: Sequence[str]) -> str:
    known = all_sources()
    return "; ".join(
        ", ".join(filter(None, (known[each].title, known[each].clause))) if each in known else each
        for each in ids
    )


def _not_made(page: _Page) -> None:
    missing = page.checked.assessment.missing
    if not missing:
        return
    needs: dict[str, int] = {}
    for paths in missing.values():
        for path in paths:
            needs[path] = needs.get(path, 0) + 1
    page.console.heading(f"Not known: {len(missing)} figures lack an input")
    ranked = sorted(needs.items(), key=lambda row: (-row[1], row[0]))
    page.console.wrapped(", ".join(f"{path} ({count})" for path, count in ranked), indent=2)


def _assumed(page: _Page) -> None:
    assumed = page.checked.assessment.assumed
    if assumed:
        page.console.heading(f"Assumed: {len(assumed)} inputs stand on a default")
        page.console.wrapped(", ".join(assumed), indent=2)


def _skipped(page: _Page) -> None:
    """Write what has no model yet, then the rules that do not apply, by the reason."""
    skipped = page.checked.assessment.skipped
    page.console.heading("Not judged")
    others: dict[str, list[str]] = {}
    for each in skipped:
        name, _, reason = each.partition(": ")
        if reason.endswith(NOT_JUDGED):
            page.console.wrapped(reason.removesuffix(NOT_JUDGED), indent=4, first="  ")
        else:
            others.setdefault(reason, []).append(name)
    if others:
        page.console.heading("Rules that do not apply")
        for reason, names in others.items():
            page.console.wrapped(f"{reason}: {', '.join(names)}", indent=4, first="  ")


def _sources(page: _Page, today: date) -> None:
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


def _counts(page: _Page) -> None:
    from swapwright.physics.workings import ALL

    assessment = page.checked.assessment
    page.console.heading("In all")
    counts = ", ".join(f"{assessment.count(verdict)} {verdict}" for verdict in SEVERITY)
    page.console.line(f"  {assessment.rules_run} rules run: {counts}")
    still_open = _open(assessment.findings)
    page.console.line(f"  {still_open}")
    total = len(assessment.figures)
    kinds = ", ".join(
        f"{count} {kind} ({100 * count / max(total, 1):.0f} %)"
        for kind, count in count_by_kind(assessment).items()
    )
    page.console.wrapped(f"{total} figures: {kinds}; {len(ALL)} formulas known", indent=2)


def _open(findings: Sequence[Finding]) -> str:
    stops: list[Verdict] = [each.verdict for each in findings if each.verdict == "stop"]
    fixes = [finding for finding in findings if is_open(finding)]
    accepted = [finding for finding in findings if finding.accepted is not None]
    words = [f"{len(stops)} to stop for", f"{len(fixes)} to fix or to find out"]
    if accepted:
        words.append(f"{len(accepted)} accepted by the owner")
    return "still open: " + ", ".join(words)
