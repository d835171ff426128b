"""The network of a car as a person reads it."""

from __future__ import annotations

from swapwright.build.revision import short
from swapwright.cli.console import Console
from swapwright.cli.tables_text import write_tables
from swapwright.jobs.account import CAUTIONS
from swapwright.jobs.bus_sheet import RULES
from swapwright.jobs.check import Checked
from swapwright.jobs.sheet_table import Table


def write_network(console: Console, checked: Checked, tables: tuple[Table, ...]) -> None:
    """Write buses, nodes, messages and lines, then every finding on them that is not met."""
    name = checked.assessment.name or "a car without a name"
    console.line(f"{name}: network", bold=True)
    console.line(f"{checked.opened.file}, revision {short(checked.assessment.revision)}")
    console.line("design, not confirmed on the car")
    write_tables(console, tables)
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
