"""The network of a car as a person reads it."""

from __future__ import annotations

from swapwright.build.revision import short
from swapwright.cli.console import Console
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.bus_sheet import MEASURE, RULES, Table
from swapwright.jobs.check import Checked


def write_network(console: Console, checked: Checked, tables: tuple[Table, ...]) -> None:
    """Write buses, nodes, messages and lines, then every finding on them that is not met."""
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: network", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    console.line("design, not confirmed on the car")
    for table in tables:
        if not table.rows:
            continue
        console.heading(table.title)
        console.columns((table.heads, *table.rows))
    console.line()
    console.wrapped(MEASURE)
    found = [
        each
        for each in checked.assessment.findings
        if each.rule.startswith(RULES) and each.verdict != "met"
    ]
    if found:
        console.heading("What the rules of the network say")
    for each in found:
        first = f"  {console.verdict(each.verdict)} "
        console.wrapped(f"{each.text} {each.remedy}", indent=len(first), first=first)
    console.line()
    for caution in CAUTIONS:
        console.wrapped(caution)
