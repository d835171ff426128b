"""What an edit did: headline figures and findings before and after, and the entries changed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from swapwright.base.finding import Finding, Verdict
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.headline import headline_ids
from swapwright.jobs.telling import tell


@dataclass(frozen=True)
class FigureChange:
    """One headline figure whose text is another: before and after, empty where it was not there."""

    id: str
    label: str
    before: str
    after: str


@dataclass(frozen=True)
class FindingChange:
    """One finding whose verdict moved; None where it was not there at all."""

    rule: str
    subject: str
    before: Verdict | None
    after: Verdict | None
    text: str


@dataclass(frozen=True)
class EntryChange:
    """One entry of the build file that was changed, as written; empty where it was not there."""

    path: str
    before: str
    after: str


@dataclass(frozen=True)
class Difference:
    """All that changed from one car to another."""

    entries: tuple[EntryChange, ...]
    figures: tuple[FigureChange, ...]
    findings: tuple[FindingChange, ...]

    @property
    def is_none(self) -> bool:
        """Tell whether nothing changed."""
        return not (self.entries or self.figures or self.findings)


NOTHING = Difference((), (), ())


def difference(
    before: Checked | None, after: Checked | None, profile: str, world: str = "electric"
) -> Difference:
    """Return what changed between two cars; nothing where one of them is not there."""
    if before is None or after is None or before is after:
        return NOTHING
    return Difference(
        tuple(_entries(before, after)),
        tuple(_figures(before, after, profile, world)),
        tuple(_findings(before, after)),
    )


def written_entries(raw: object, path: str = "") -> Iterator[tuple[str, str]]:
    """Yield the path and the text of each entry of a build file."""
    if isinstance(raw, dict):
        for key, below in raw.items():
            yield from written_entries(below, f"{path}.{key}" if path else key)
    elif isinstance(raw, list) and any(isinstance(each, dict) for each in raw):
        for number, below in enumerate(raw):
            yield from written_entries(below, f"{path}[{number}]")
    else:
        yield path, str(raw)


def _entries(before: Checked, after: Checked) -> Iterator[EntryChange]:
    old, new = (dict(written_entries(dict(each.opened.build.raw))) for each in (before, after))
    for path in dict.fromkeys([*old, *new]):
        if old.get(path) != new.get(path):
            yield EntryChange(path, old.get(path, ""), new.get(path, ""))


def _figures(before: Checked, after: Checked, profile: str, world: str) -> Iterator[FigureChange]:
    old, new = before.assessment.figures, after.assessment.figures
    for figure_id in headline_ids():
        was, now = old.get(figure_id), new.get(figure_id)
        shown = now or was
        if shown is None:
            continue
        kind = figure_kind(shown)
        texts = [
            "" if each is None else tell(each.value.si, kind, profile, world=world)
            for each in (was, now)
        ]
        if texts[0] != texts[1]:
            yield FigureChange(figure_id, shown.label, *texts)


def _findings(before: Checked, after: Checked) -> Iterator[FindingChange]:
    old, new = (_by_place(each.assessment.findings) for each in (before, after))
    for place in dict.fromkeys([*new, *old]):
        was, now = old.get(place), new.get(place)
        told = now or was
        if told is None or (was and now and was.verdict == now.verdict):
            continue
        yield FindingChange(
            told.rule,
            told.subject,
            None if was is None else was.verdict,
            None if now is None else now.verdict,
            told.text,
        )


def _by_place(findings: tuple[Finding, ...]) -> Mapping[tuple[str, str], Finding]:
    found: dict[tuple[str, str], Finding] = {}
    for finding in findings:  # severity comes first: the worst of several at one place counts
        found.setdefault((finding.rule, finding.subject), finding)
    return found
