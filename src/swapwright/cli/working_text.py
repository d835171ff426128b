"""A figure's working as an indented tree a person can follow with a calculator."""

from __future__ import annotations

from swapwright.base.figure import Figure, LookedUp, SimulatedWorking, Summed, Working
from swapwright.base.sources import all_sources
from swapwright.cli.console import Console
from swapwright.cli.finding_text import write_finding
from swapwright.cli.page import Page
from swapwright.jobs.grounds import own_sources
from swapwright.jobs.telling import in_one_unit, tell, value_text
from swapwright.jobs.working import Answer, Branch, Leaf, Shown

STEP = 3
DEEPEST_INDENT = 45


def write_working(page: Page, answer: Answer) -> None:
    """Write a rule's findings where it is one, then each figure: what moves it, and its tree."""
    for finding in answer.findings:
        write_finding(page, finding, in_full=True, with_sources=True)
    for number, shown in enumerate(answer.shown):
        if number or answer.findings:
            page.console.line()
        _figure(page, shown)
    if any(_is_cut(shown.root) for shown in answer.shown):
        page.console.line()
        page.console.wrapped(
            "[...] goes deeper: --depth 3, --depth all, or --working with that figure's name",
        )


def _is_cut(branch: Branch) -> bool:
    return branch.is_cut or any(
        _is_cut(child) for child in branch.children if isinstance(child, Branch)
    )


def _figure(page: Page, shown: Shown) -> None:
    console, profile, root = page.console, page.profile, shown.root
    figure = root.figure
    writer = _Writer(console, profile)
    console.line(f"{figure.label}   {figure.id}", bold=True)
    if shown.moved_by:
        console.line("what moves it most")
        rows = [("input", "at its low end", "at its high end")]
        for path, low, high in shown.moved_by:
            ends = [writer.change(end, figure, root.kind) for end in (low, high)]
            rows.append((path, ends[0], ends[1]))
        console.columns(rows)
    console.line(f"= {value_text(figure.value, root.kind, profile)}", bold=True)
    console.line(f"lines are those of {page.checked.opened.file}")
    writer.made(root, STEP)


class _Writer:
    """Writes branches and leaves, each one step further in than what it is part of."""

    def __init__(self, console: Console, profile: str) -> None:
        self.console = console
        self.profile = profile
        self.has_told_equations = False

    def made(self, branch: Branch, indent: int) -> None:
        """Write how a figure is made, then what goes into it."""
        indent = min(indent, DEEPEST_INDENT)
        working = branch.figure.working
        if isinstance(working, Working):
            self.say(f"{working.result.label} = {working.expression}", indent)
        elif isinstance(working, Summed):
            words = {0: "zero: there is no row to sum", 1: "is"}
            self.say(words.get(len(working.rows), "the sum of"), indent)
        elif isinstance(working, LookedUp):
            self.looked_up(working, indent)
        else:
            self.simulated(branch.figure, working, indent)
        if own_sources(branch.figure):
            self.say(f"source: {_titles(own_sources(branch.figure))}", indent)
        if isinstance(working, Working) and working.assumes:
            self.say(f"takes for granted: {working.assumes}", indent)
        for child in branch.children:
            self.child(child, indent)

    def looked_up(self, working: LookedUp, indent: int) -> None:
        self.say(f"read from: {working.table}", indent)
        if working.row:
            self.say(f"row: {working.row}", indent + STEP)
        if working.column:
            self.say(f"column: {working.column}", indent + STEP)

    def simulated(self, figure: Figure, working: SimulatedWorking, indent: int) -> None:
        if self.has_told_equations:
            self.say("simulated by the equations above", indent)
        else:
            self.say("simulated, step by step:", indent)
            for equation in working.equations:
                self.say(equation, indent + STEP)
        self.has_told_equations = True
        settings = "; ".join(f"{name}: {text}" for name, text in working.settings.items())
        self.say(f"settings: {settings}", indent)
        self.ledger(working, indent)
        estimate = working.estimate
        told = value_text(estimate.value, figure.kind, self.profile)
        self.say(
            f"independent short estimate: {told}; the simulation differs by "
            f"{100.0 * working.deviation:+.1f} %",
            indent,
        )

    def ledger(self, working: SimulatedWorking, indent: int) -> None:
        """Write where the energy went, all in one unit, with shares of the largest row."""
        ledger = working.ledger
        whole = max((abs(energy) for energy in ledger.values()), default=0.0)
        if not whole:
            return
        self.say("energy ledger (sums to zero):", indent)
        for name, text in in_one_unit(ledger).items():
            share = abs(ledger[name]) / whole
            if share > 1e-9:
                told = tell(share, "fraction", self.profile, digits=2)
                self.say(f"{name:<22} {text:>12}  {told:>8}", indent + STEP, wrap=False)

    def child(self, child: Branch | Leaf, indent: int) -> None:
        """Write one input: its letter, value, name and origin, and what is under it."""
        letter = f"{child.symbol} = " if child.symbol else ""
        if isinstance(child, Leaf):
            text = value_text(child.value, child.kind, self.profile)
            self.say(f"{letter}{text}  {child.label}; {self.origin(child)}", indent, mark="- ")
            return
        text = value_text(child.figure.value, child.kind, self.profile)
        more = "; worked out above" if child.is_repeated else " [...]" if child.is_cut else ""
        self.say(f"{letter}{text}  {child.label} [{child.figure.id}]{more}", indent, mark="- ")
        if not child.is_repeated and not child.is_cut:
            self.made(child, indent + STEP)

    def origin(self, leaf: Leaf) -> str:
        """Return where a value comes from, in words."""
        value = leaf.value
        if value.origin == "entered":
            line = f", line {leaf.line}" if leaf.line else ""
            return f"entered as {value.ref}{line}"
        if value.origin == "part":
            return f"part {value.ref}"
        if value.origin == "default":
            return f"assumed: {_title(value.ref)}"
        return f"{value.origin}: {_title(value.ref)}"

    def change(self, change: float, figure: Figure, kind: str) -> str:
        """Return what a figure becomes when it is moved by so much."""
        moved = tell(figure.value.si + change, kind, self.profile)
        share = 100.0 * change / figure.value.si if figure.value.si else 0.0
        return f"{moved} ({share:+.1f} %)"

    def say(self, text: str, indent: int, *, mark: str = "", wrap: bool = True) -> None:
        if not wrap:
            self.console.line(" " * indent + text)
            return
        first = " " * indent + mark
        self.console.wrapped(text, indent=len(first), first=first)


def _titles(ids: tuple[str, ...]) -> str:
    return "; ".join(_title(each) for each in ids)


def _title(source_id: str) -> str:
    known = all_sources().get(source_id)
    return source_id if known is None else known.title
