"""Every part that could stand at one place of a car: what it would bring, and what it would cure.

Each is put into the file's text in memory, the car assessed with it and held against the car as it
is. Nothing is written.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from swapwright.assess.solve import assess
from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Value
from swapwright.base.finding import SEVERITY, Finding, Verdict
from swapwright.build.car import MODULE_CELL, PACK_CELL
from swapwright.build.edit import edit
from swapwright.build.load import load_text
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.check import Checked
from swapwright.jobs.difference import FigureChange, difference
from swapwright.jobs.opening import Opened
from swapwright.jobs.part_place import entries_to_put, kind_at, label_at, part_place, standing_at
from swapwright.jobs.parts import HEADS, LISTED, cell_text
from swapwright.jobs.progress import Cancelled, IsCancelled, Progress, never, unwatched
from swapwright.jobs.telling import against_limit
from swapwright.standards.version import DATA_VERSION

_BAD: tuple[Verdict, ...] = ("stop", "fix")
_Place = tuple[str, str]
_Mark = frozenset[tuple[str, str, str, float | None, float | None]]


@dataclass(frozen=True)
class Told:
    """One finding, its value and limit in words, and its verdict in the car as it is.

    ``before`` is None where the car as it is has no such finding.
    """

    finding: Finding
    told: str
    before: Verdict | None


@dataclass(frozen=True)
class Candidate:
    """One part of the catalogue, put where the choice is: all that comes of it.

    ``new`` are the *stops* and *fixes* it brings; ``left`` those of the place itself that it does
    not cure; ``unsettled`` what could be one and cannot be judged with it; ``cured`` those of the
    car as it is that are gone, as they were. ``data`` stands under the heads of the choice.
    ``problems`` say why no car can be made with it; one of a place nothing is judged by is not
    ``is_judged``. ``stops`` and ``fixes`` are those of the whole car with it.
    """

    name: str
    is_here: bool
    data: tuple[str, ...]
    new: tuple[Told, ...] = ()
    left: tuple[Told, ...] = ()
    unsettled: tuple[Told, ...] = ()
    cured: tuple[Told, ...] = ()
    figures: tuple[FigureChange, ...] = ()
    problems: tuple[Problem, ...] = ()
    is_judged: bool = True
    stops: int = 0
    fixes: int = 0

    @property
    def stands(self) -> bool:
        """Tell whether it brings no *stop* and no *fix*, and leaves none of the part's."""
        return self.is_judged and not (self.new or self.left or self.problems)

    @property
    def fits(self) -> bool:
        """Tell whether nothing speaks against it, and all that could has been judged."""
        return self.stands and not self.unsettled

    @property
    def worst(self) -> Verdict:
        """Return the verdict its words stand under."""
        if self.problems:
            return "stop"
        if not self.is_judged:
            return "unknown"
        found = [each.finding.verdict for each in (*self.new, *self.left, *self.unsettled)]
        return min(found, key=SEVERITY.index, default="met")

    @property
    def words(self) -> str:
        """Return in a few words whether it fits, and why not."""
        if self.problems:
            return "cannot stand here"
        if not self.is_judged:
            return "not judged here"
        counted = [
            *_counted("new", "", self.new),
            *_counted("", "left", self.left),
        ]
        if self.unsettled:
            counted.append(f"{len(self.unsettled)} cannot be judged yet")
        if self.stands:
            counted.insert(0, "fits" if self.fits else "nothing against it so far")
        return ", ".join(counted)


@dataclass(frozen=True)
class Choice:
    """The parts that could stand at one place of a car, those that fit first.

    Not ``is_judged`` where every finding and every figure is the same whichever of them stands
    there: nothing then tells that one fits.
    """

    place: str
    label: str
    kind: str
    heads: tuple[str, ...]
    candidates: tuple[Candidate, ...]
    is_judged: bool

    @property
    def fitting(self) -> tuple[Candidate, ...]:
        """Return those that fit."""
        return tuple(each for each in self.candidates if each.fits)

    @property
    def standing(self) -> tuple[Candidate, ...]:
        """Return those that nothing speaks against, judged in full or not."""
        return tuple(each for each in self.candidates if each.stands)


def choose(
    checked: Checked,
    place: str,
    catalogue: Catalogue,
    today: date,
    *,
    profile: str,
    world: str = "electric",
    progress: Progress = unwatched,
    is_cancelled: IsCancelled = never,
) -> Choice:
    """Return every part of the catalogue that could stand at a place, assessed in this car.

    Raises InputError where the place takes no part, `Cancelled` once ``is_cancelled`` says so.
    """
    kind = kind_at(place)
    if kind is None:
        raise InputError(Problem(checked.opened.file, place, "no part stands here"))
    names = catalogue.names(kind)
    comparison = _Comparison(checked, place, kind, catalogue, today, profile, world)
    found: list[Candidate] = []
    marks: list[_Mark] = []
    for done, name in enumerate(names):
        progress(done, len(names))
        if is_cancelled():
            raise Cancelled
        candidate, then = comparison.candidate(name)
        found.append(candidate)
        marks += [] if then is None else [_mark(then)]
    progress(len(names), len(names))
    is_judged = len({*marks, _mark(checked)}) > 1 or comparison.judges(checked)
    found = [replace(each, is_judged=is_judged) for each in found]
    found.sort(key=_rank)
    heads = tuple(HEADS.get(key, key.replace("_", " ")) for key in LISTED[kind])
    return Choice(place, label_at(place), kind, heads, tuple(found), is_judged)


def _mark(checked: Checked) -> _Mark:
    """Return what is judged of a car, to be held against another's."""
    return frozenset(
        (each.rule, each.subject, each.verdict, _si(each.value), _si(each.limit))
        for each in checked.assessment.findings
    )


def _si(value: Value | None) -> float | None:
    return None if value is None else value.si


def _rank(candidate: Candidate) -> tuple[bool, bool, bool, int, int, int, str]:
    """Return what candidates are sorted by: what fits, then the fewest stops of the whole car."""
    return (
        bool(candidate.problems),
        not candidate.fits,
        not candidate.stands,
        candidate.stops,
        candidate.fixes,
        len(candidate.unsettled),
        candidate.name,
    )


def _counted(before: str, after: str, told: tuple[Told, ...]) -> Iterator[str]:
    """Yield how many there are of each verdict: ``1 new stop``, ``2 fixes left``."""
    for verdict, many in (("stop", "stops"), ("fix", "fixes")):
        count = sum(1 for each in told if each.finding.verdict == verdict)
        if count:
            words = (str(count), before, verdict if count == 1 else many, after)
            yield " ".join(word for word in words if word)


@dataclass(frozen=True)
class _Comparison:
    """Puts one part after the other into a car and holds it against the car as it is."""

    now: Checked
    place: str
    kind: str
    catalogue: Catalogue
    today: date
    profile: str
    world: str

    def candidate(self, name: str) -> tuple[Candidate, Checked | None]:
        """Return what comes of one part, and the car with it where one could be made."""
        standing = standing_at(self.now.opened.build.raw, self.now.opened.car, self.place)
        is_here = standing.name == name
        data: tuple[str, ...] = tuple("" for _ in LISTED[self.kind])
        try:
            part = self.catalogue.get(self.kind, name)
            data = tuple(cell_text(part, key, self.profile) for key in LISTED[self.kind])
            then = self._with(name)
        except InputError as error:
            return Candidate(name, is_here, data, problems=error.problems), None
        return self._compared(name, is_here, data, then), then

    def judges(self, checked: Checked) -> bool:
        """Tell whether a finding of a car is of the part at this place."""
        return any(self._is_here(each.subject) for each in checked.assessment.findings)

    def _with(self, name: str) -> Checked:
        """Return the car with a part put at the place; raise InputError where it cannot be."""
        build = self.now.opened.build
        text = build.text
        for path, typed in entries_to_put(build.raw, self.place, name).items():
            text = edit(text, path, typed)
        if text == build.text:
            return self.now
        written = load_text(text, build.file)
        car = resolve(written, self.catalogue, data_version=DATA_VERSION)
        opened = Opened(self.now.opened.file, written, car)
        return Checked(opened, assess(car, today=self.today))

    def _compared(
        self, name: str, is_here: bool, data: tuple[str, ...], then: Checked
    ) -> Candidate:
        old, new = (_by_place(each.assessment.findings) for each in (self.now, then))
        brought: dict[str, list[Told]] = {"new": [], "left": [], "unsettled": [], "cured": []}
        for at, finding in new.items():
            was = old.get(at)
            fate = self._fate(finding, was)
            if fate:
                brought[fate].append(self._told(finding, then, was))
        for at, was in old.items():
            now = new.get(at)
            if was.verdict in _BAD and (now is None or now.verdict in ("watch", "met")):
                brought["cured"].append(self._told(was, self.now, was))
        return Candidate(
            name,
            is_here,
            data,
            tuple(brought["new"]),
            tuple(brought["left"]),
            tuple(brought["unsettled"]),
            tuple(brought["cured"]),
            difference(self.now, then, self.profile, self.world).figures,
            stops=then.assessment.count("stop"),
            fixes=then.assessment.count("fix"),
        )

    def _fate(self, finding: Finding, was: Finding | None) -> str:
        """Return which list of a candidate a finding of its car belongs to; empty for none."""
        is_worse = was is None or SEVERITY.index(finding.verdict) < SEVERITY.index(was.verdict)
        if finding.verdict in _BAD:
            if is_worse:
                return "new"
            is_left = self._is_here(finding.subject) and finding.accepted is None
            return "left" if is_left else ""
        could_be_bad = finding.verdict == "unknown" and finding.could_be in _BAD
        is_new = was is None or was.verdict != "unknown"
        return "unsettled" if could_be_bad and (is_new or self._is_here(finding.subject)) else ""

    def _is_here(self, subject: str) -> bool:
        """Tell whether a finding's subject is the part here, not what is said of its place."""
        if subject == self.place or part_place(subject) == self.place:
            return True
        return subject == PACK_CELL and MODULE_CELL.startswith(self.place)

    def _told(self, finding: Finding, of: Checked, was: Finding | None) -> Told:
        words = against_limit(finding, of.assessment.figures, self.profile)
        return Told(finding, words, None if was is None else was.verdict)


def _by_place(findings: tuple[Finding, ...]) -> Mapping[_Place, Finding]:
    """Return the findings by rule and subject; the worst, which comes first, of several there."""
    return {(each.rule, each.subject): each for each in reversed(findings)}
