"""What templates may ask for: words and addresses made from what a page already has."""

from __future__ import annotations

from markupsafe import Markup

from swapwright.base.finding import Finding
from swapwright.base.sources import all_sources
from swapwright.jobs.part_place import part_place
from swapwright.jobs.stage import stage_of_path, stage_of_rule
from swapwright.jobs.telling import tell
from swapwright.jobs.words import word_in
from swapwright.workbench import links


def entry_link(name: str, path: str) -> str:
    """Return the address where the entry at a build path is changed: its stage's, or its part's."""
    place = part_place(path)
    if place is not None:
        return links.part_entry(name, place, path)
    return links.entry(name, stage_of_path(path).slug, path)


def finding_link(name: str, finding: Finding) -> str:
    """Return the address where a finding stands, on its stage's page."""
    return links.finding(name, stage_of_rule(finding.rule).slug, finding.rule, finding.subject)


def term_link(text: str) -> Markup:
    """Return a small link to what a term in a label means; nothing where there is none."""
    word = word_in(text)
    if word is None:
        return Markup()
    link = '<a class="term" href="{}" title="{}" aria-label="what is meant by {}">?</a>'
    return Markup(link).format(links.word(word.slug), word.words, word.term)


def source_words(source_id: str) -> str:
    """Return a source as a reader finds it: title, clause, edition; the id of an unknown one."""
    found = all_sources().get(source_id)
    if found is None:
        return source_id
    parts = [found.title, found.clause, found.edition]
    return ", ".join(part for part in parts if part)


def drawn(svg: str) -> Markup:
    """Return a drawing of ours as one: it stands in a page as it is."""
    return Markup(svg)


def breakable(name: str) -> Markup:
    """Return an id that may be broken at its dots, and nowhere else."""
    return Markup("<wbr>").join(f"{part}." for part in name.split(".")).removesuffix(".")


def counted(number: int, one: str, several: str) -> str:
    """Return a number of things in words: 1 entry, 2 entries, no entry."""
    return f"{number or 'no'} {several if number > 1 else one}"


def share(part: float) -> str:
    """Return a share in percent."""
    return tell(part, "fraction", "metric", digits=2)
