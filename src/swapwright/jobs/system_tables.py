"""What a stage shows in tables beside its findings: loads by case, one charge, loops, wheels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from swapwright.assess import controller
from swapwright.assess.stages.pedal import CREEP, STEADY
from swapwright.base.table import Line
from swapwright.build.circuit.model import slug
from swapwright.jobs.bus_sheet import bus_sheet
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.module_list import module_list
from swapwright.jobs.price_list import price_list
from swapwright.jobs.sheet_table import Table
from swapwright.jobs.telling import tell
from swapwright.standards.inlets import INLETS, SPOKEN

LOADS = (
    ("by day", "day"),
    ("at night in rain", "night"),
    ("on a winter night", "winter"),
    ("charging", "charging"),
    ("parked", "parked"),
)
CHARGE = (
    ("energy stored", "charging.stored{}"),
    ("charge at the end", "charging.end_soc{}"),
    ("share of the time at the end voltage", "charging.held_share{}"),
    ("hottest cell", "charging.hottest_cell{}"),
)
SLOW = (("time", "charging.time{}"), ("energy from the wall", "charging.drawn{}"), *CHARGE)
FAST = (
    ("time", "charging.time_fast{}"),
    ("energy from the station", "charging.drawn_fast{}"),
    *((label, name.replace("{}", "_fast{}")) for label, name in CHARGE),
    ("where warm cells hold it back most", "charging.fast_held{}"),
    ("there without it", "charging.fast_unheld{}"),
)
"""What is told of a charge: its label, and its figure with the day behind it."""
SLOW_DAYS = (
    ("mild day", "a mild day", ""),
    ("cold day", "a cold day", "_cold"),
    ("household socket, mild day", "a household socket", "_socket"),
)
FAST_DAYS = (("mild day", "a mild day", ""), ("hot day", "a hot day", "_hot"))
LIMITS = (
    ("the supply's circuit, for hours", "charging.circuit_current"),
    ("the cable, by its resistor", "charging.cable_current"),
    ("the inlet", "charging.inlet_rating"),
    ("the charger", "charging.draw_at_rating"),
    ("so drawn from each phase", "charging.input_current"),
)
STATES = (
    ("at continuous power", "continuous"),
    ("on the goal's climb", "climb"),
    ("city", "city"),
    ("highway", "highway"),
    ("charging", "charging"),
    ("fast charging, its mean heat for good", "fast"),
)
BOX = ("mass", "load", "strength")
LIMITS_OF_TORQUE = (
    (controller.BY_PEDAL, "pedal travel", "fraction"),
    (controller.BY_CHARGE, "state of charge", "fraction"),
    (controller.BY_CELL, "cell temperature", "temperature"),
)
WHEELS = ("front left", "front right", "rear left", "rear right")


def tables_of(
    stage: str, checked: Checked, profile: str, world: str = "electric"
) -> tuple[Table, ...]:
    """Return the tables of a stage, those with rows only, in a person's units and world."""
    made = _Tables(checked, profile, world)
    tables: Mapping[str, Iterable[Table]] = {
        "drive": (made.allowed(), made.pedal()) if stage == "drive" else (),
        "goals": price_list(checked, profile, world) if stage == "goals" else (),
        "pack": module_list(checked, profile, world) if stage == "pack" else (),
        "network": bus_sheet(checked, profile, world) if stage == "network" else (),
        "12-v": (made.loads(),) if stage == "12-v" else (),
        "charging": made.charging() if stage == "charging" else (),
        "cooling": made.loops() if stage == "cooling" else (),
        "weight": (made.wheels(), made.boxes()) if stage == "weight" else (),
    }
    return tuple(each for each in tables.get(stage, ()) if each.rows)


class _Tables:
    """Tells figures of one assessed car in rows."""

    def __init__(self, checked: Checked, profile: str, world: str) -> None:
        self.car = checked.opened.car
        self.figures = checked.assessment.figures
        self.missing = checked.assessment.missing
        self.profile = profile
        self.world = world

    def _told(self, name: str) -> str:
        figure = self.figures.get(name)
        if figure is None:
            return self._why_not(name)
        return tell(figure.value.si, figure_kind(figure), self.profile, world=self.world)

    def _why_not(self, name: str) -> str:
        """Return in words why a figure is not there; nothing where an entry is what it lacks."""
        why = self.missing.get(name, ("",))[0]
        return why if " " in why else ""

    def _rows(self, rows: Iterable[tuple[str, tuple[str, ...]]]) -> tuple[tuple[str, ...], ...]:
        """Return rows of figures, those of which at least one is there."""
        told = ((label, *map(self._told, names)) for label, names in rows)
        return tuple(row for row in told if any(row[1:]))

    def allowed(self) -> Table:
        """Return every limit of torque the controller has, point by point."""
        rows: list[tuple[str, ...]] = []
        for path, by, kind in LIMITS_OF_TORQUE:
            table = self.car.tables.get(path)
            if isinstance(table, Line):
                rows += (
                    (by, tell(at, kind, self.profile), tell(share, "fraction", self.profile))
                    for at, share in zip(table.x, table.y, strict=True)
                )
        for path, by in (("drive", "gear"), ("drive.second", "gear of the second motor")):
            shares = self.car.numbers.get(f"{path}.torque_by_gear", ())
            rows += (
                (by, str(gear), tell(share.si, "fraction", self.profile))
                for gear, share in enumerate(shares, start=1)
            )
        note = "Of the torque that motor, inverter, gearbox and setting leave; shares multiply."
        return Table("What the controller allows", ("by", "at", "share"), tuple(rows), note)

    def pedal(self) -> Table:
        """Return how far down the pedal is where the car holds a speed."""
        columns = ("_force", "_share", "")
        there = {*self.figures, *self.missing}
        rows = self._rows(
            (each.words, tuple(f"drive.pedal.{each.slug}{column}" for column in columns))
            for each in STEADY
            if f"drive.pedal.{each.slug}" in there
        )
        heads = ("to hold", "force at the road", "share of the torque", "pedal travel")
        creep = self.figures.get(CREEP)
        note = "Released, it stands still on the level."
        if creep is None:
            note = ""
        elif creep.value.si > 0.0:
            note = f"Released, it creeps to {self._told(CREEP)} on the level."
        return Table("The pedal", heads, rows, note)

    def loads(self) -> Table:
        """Return what the 12 V side takes, by case."""
        rows = self._rows(
            (label, tuple(f"lv.{what}.{case}" for what in ("current", "power", "draw")))
            for label, case in LOADS
        )
        return Table("Loads by case", ("", "current", "power", "from the pack"), rows)

    def charging(self) -> tuple[Table, ...]:
        """Return what may be drawn, one charge, a fast one, and what the inlet asks of the car."""
        slow = self.charge("One charge", SLOW, SLOW_DAYS)
        fast = self.charge("A fast charge", FAST, FAST_DAYS)
        return self.limits(), slow, fast, self.inlet()

    def limits(self) -> Table:
        """Return what each thing between the wall and the cells allows."""
        rows = self._rows((label, (name,)) for label, name in LIMITS)
        return Table("What may be drawn", ("", "each phase"), rows)

    def charge(
        self, title: str, told: tuple[tuple[str, str], ...], each: tuple[tuple[str, str, str], ...]
    ) -> Table:
        """Return one charge by the day's weather; why there is none on a day is said once, below.

        A day without a charge has no column: it would say the same in every row.
        """
        days: list[tuple[str, str]] = []
        without: dict[str, list[str]] = {}
        for day, words, case in each:
            names = [name.format(case) for _, name in told]
            if any(name in self.figures for name in names):
                days.append((day, case))
            elif why := self._why_not(names[0]):
                without.setdefault(why, []).append(words)
        rows = self._rows(
            (label, tuple(name.format(case) for _, case in days)) for label, name in told
        )
        note = " ".join(
            f"No charge on {', nor on '.join(those)}: {why}." for why, those in without.items()
        )
        if note and not rows:
            return Table(title, (), ((note,),))
        return Table(title, ("", *(day for day, _ in days)), rows, note)

    def inlet(self) -> Table:
        """Return what the inlet's language is, and what the pack controller has to say in it."""
        inlet = INLETS.get(self.car.texts.get("charging.inlet", ""))
        language = None if inlet is None else SPOKEN.get(inlet.language)
        if inlet is None or language is None:
            return Table("", (), ())
        title = f"What an inlet of the kind {inlet.name} asks of the car"
        rows = tuple(("the pack controller says", each) for each in language.says)
        return Table(title, ("", ""), (("spoken as", language.standard), *rows))

    def loops(self) -> tuple[Table, ...]:
        """Return each cooling loop's temperatures by state."""
        made = []
        for row in range(self.car.counts.get("cooling.loop", 0)):
            name = self.car.texts.get(f"cooling.loop[{row}].name", "loop")
            at = f"cooling.{slug(name)}"
            rows = self._rows(
                (label, tuple(f"{at}.{what}_{state}" for what in ("heat", "hottest", "coolest")))
                for label, state in STATES
            )
            flow = self._told(f"{at}.flow")
            note = f"Flow {flow}; freezes at {self._told(f'{at}.freezes')}." if flow else ""
            end = self._told(f"{at}.fast_end")
            note += f" Hottest in a fast charge: {end}." if note and end else ""
            title = f"Loop {name}, on a hot day"
            made.append(Table(title, ("", "heat", "hottest", "coolest"), rows, note))
        return tuple(made)

    def wheels(self) -> Table:
        """Return what each wheel carries, where the four pads were read."""
        rows = self._rows(
            (place, (f"weight.{slug(place)}_unladen", f"weight.{slug(place)}")) for place in WHEELS
        )
        return Table("Load on each wheel", ("", "nobody aboard", "as loaded"), rows)

    def boxes(self) -> Table:
        """Return what a crash asks of the mounting of each pack box, and what its bolts hold."""
        names = [
            self.car.texts.get(f"pack.boxes[{row}].name", f"box {row + 1}")
            for row in range(self.car.counts.get("pack.boxes", 0))
        ]
        rows = self._rows(
            (
                name,
                tuple(f"weight.box.{slug(name)}.{what}" for what in ("mass", "load", "strength")),
            )
            for name in names
        )
        heads = ("", "mass", "load at 20 g", "its bolts hold")
        return Table("Pack boxes in a crash", heads, rows)
