"""The parts list with its prices, what the whole costs, the masses, and the goals one by one."""

from __future__ import annotations

from collections.abc import Iterator

from swapwright.base.figure import Summed
from swapwright.base.finding import Finding
from swapwright.jobs.check import NOTHING_OPEN, OPEN, STOP, Checked, is_open
from swapwright.jobs.grounds import figure_kind, finding_kind
from swapwright.jobs.sheet_table import NOT_KNOWN, Table
from swapwright.jobs.telling import tell

GOALS, PARTS, SOLD = "goals.", "cost.part", "cost.sold"
GOAL_RULES = (GOALS, "cost.", "charging.time")
MONEY = "In the owner's own money. Prices are what the file says; nothing here was looked up."
COSTS = (
    ("all parts", "cost.parts"),
    ("work", "cost.work_price"),
    ("reserve", "cost.reserve"),
    ("the whole, less what is sold", "cost.total"),
    ("longest wait for a part", "cost.longest_wait"),
    ("driving, energy from the wall", "cost.driving"),
    ("driving before, fuel", "cost.driving_before"),
    ("driven until it is paid back", "cost.pay_back"),
)
MASSES = (
    ("allowed for what goes in", "mass.budget"),
    ("put in", "mass.added"),
    ("left under the plate, loaded", "mass.left"),
)


def goal_findings(checked: Checked) -> tuple[Finding, ...]:
    """Return the findings on what the owner asked for."""
    return tuple(each for each in checked.assessment.findings if each.rule.startswith(GOAL_RULES))


def goals_status(checked: Checked) -> int:
    """Return the exit status of what the rules of the goals found."""
    found = goal_findings(checked)
    if any(each.verdict == "stop" for each in found):
        return STOP
    return OPEN if any(is_open(each) for each in found) else NOTHING_OPEN


def price_list(checked: Checked, profile: str, world: str = "electric") -> tuple[Table, ...]:
    """Return the tables of goals, parts, cost and masses in a person's units and world."""
    sheet = _Sheet(checked, profile, world)
    return (
        Table(
            "Goals, one by one",
            ("", "what comes out", "asked for", ""),
            tuple(map(sheet.goal, goal_findings(checked))),
        ),
        Table(
            "Parts",
            ("", "count", "each", "all", "comes in"),
            tuple(sheet.parts()),
            MONEY,
        ),
        Table("What it costs", ("", ""), tuple(sheet.told(COSTS))),
        Table("What came out", ("", "mass", "brings"), tuple(sheet.removed())),
        Table("Mass", ("", ""), tuple(sheet.told(MASSES))),
    )


class _Sheet:
    """Tells the entries and figures of one car's cost."""

    def __init__(self, checked: Checked, profile: str, world: str) -> None:
        self.car = checked.opened.car
        self.figures = checked.assessment.figures
        self.profile = profile
        self.world = world

    def goal(self, found: Finding) -> tuple[str, ...]:
        """Return the row of one goal."""
        numbers = [self._value(found, which) for which in ("value", "limit")]
        word = found.verdict + (", accepted" if found.accepted else "")
        return (word, *numbers, found.text)

    def _value(self, found: Finding, which: str) -> str:
        value = found.value if which == "value" else found.limit
        if value is None:
            return NOT_KNOWN if which == "value" else ""
        return self._said(value.si, finding_kind(found, self.figures))

    def parts(self) -> Iterator[tuple[str, ...]]:
        """Yield the rows of the parts list."""
        for row in range(self.car.counts.get(PARTS, 0)):
            path = f"{PARTS}[{row}]"
            wait = "in stock" if self.car.flags.get(f"{path}.here", False) else NOT_KNOWN
            yield (
                self.car.texts.get(f"{path}.name", NOT_KNOWN),
                self._entry(f"{path}.count", "count", "1"),
                self._entry(f"{path}.price", "money"),
                self._figure(f"cost.part.{row}"),
                self._entry(f"{path}.lead_time", "time", wait),
            )

    def told(self, rows: tuple[tuple[str, str], ...]) -> Iterator[tuple[str, ...]]:
        """Yield the rows of figures that are there."""
        for label, name in rows:
            if name in self.figures:
                yield label, self._figure(name)

    def removed(self) -> Iterator[tuple[str, ...]]:
        """Yield what came out, and what was sold of it."""
        masses = self.figures.get("mass.removed")
        if masses is not None and isinstance(masses.working, Summed):
            for name, value in masses.working.rows:
                yield name, self._said(value.si, "mass"), ""
        for row in range(self.car.counts.get(SOLD, 0)):
            path = f"{SOLD}[{row}]"
            name = self.car.texts.get(f"{path}.name", NOT_KNOWN)
            yield f"sold: {name}", "", self._entry(f"{path}.price", "money")

    def _entry(self, path: str, kind: str, silent: str = NOT_KNOWN) -> str:
        value = self.car.get(path)
        return silent if value is None else self._said(value.si, kind)

    def _figure(self, name: str) -> str:
        figure = self.figures.get(name)
        if figure is None:
            return NOT_KNOWN
        return self._said(figure.value.si, figure_kind(figure))

    def _said(self, si: float, kind: str) -> str:
        # Money is added up by whoever reads it: to the whole unit, however large.
        if kind == "money":
            return f"{si:.0f}"
        return tell(si, kind, self.profile, world=self.world)
