"""Findings as pages show them: told against their limits, with what leads to value and limit."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass

from swapwright.base.figure import Value
from swapwright.base.finding import Finding
from swapwright.jobs.check import Checked
from swapwright.jobs.telling import against_limit
from swapwright.workbench import links
from swapwright.workbench.words import entry_link


@dataclass(frozen=True)
class FindingRow:
    """One finding: its value against its limit in words, and the addresses where each is from.

    ``anchor`` is where it stands on its page, ``working`` the names and addresses it rests on.
    """

    finding: Finding
    told: str
    anchor: str
    value_at: str
    limit_at: str
    working: tuple[tuple[str, str], ...]


def finding_rows(
    name: str, checked: Checked, findings: Iterable[Finding], profile: str
) -> tuple[FindingRow, ...]:
    """Return findings as rows of a car's page, in their order."""
    figures = checked.assessment.figures
    seen: Counter[str] = Counter()
    rows = []
    for each in findings:
        anchor = links.finding_anchor(each.rule, each.subject)
        seen[anchor] += 1
        rows.append(
            FindingRow(
                each,
                against_limit(each, figures, profile),
                anchor if seen[anchor] == 1 else f"{anchor}-{seen[anchor]}",
                _address(name, checked, each.value),
                _address(name, checked, each.limit),
                tuple((id, _rests_on(name, checked, id)) for id in each.figures),
            )
        )
    return tuple(rows)


def _rests_on(name: str, checked: Checked, id: str) -> str:
    """Return where a thing a finding rests on is shown: a figure's working, or the entry."""
    is_figure = id in checked.assessment.figures
    return links.figure(name, id) if is_figure else entry_link(name, id)


def _address(name: str, checked: Checked, value: Value | None) -> str:
    """Return where a value is from: a figure's working, a part's data, an entry; else nothing."""
    if value is None:
        return ""
    if value.ref in checked.assessment.figures:
        return links.figure(name, value.ref)
    if value.origin == "part":
        kind, _, part = value.ref.partition("/")
        return links.catalogue_part(kind, part) if part else ""
    return entry_link(name, value.ref) if value.origin in ("entered", "default") else ""
