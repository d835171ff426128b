"""What every part of a car's page needs: where to write, the car, and how numbers are shown."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from swapwright.base.figure import Figure
from swapwright.build.car import Car
from swapwright.cli.console import Console
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import figure_kind
from swapwright.jobs.lacking import as_written, headline_reason, lacks_of
from swapwright.jobs.telling import both_texts, tell, value_text

ASSUMED = "assumed"


@dataclass(frozen=True)
class Page:
    """One car on one console.

    ``under`` are the defaults under each headline figure; ``out_of_reach`` says of some why they
    cannot stand as they are; ``with_names`` puts each figure's id beside it.
    """

    console: Console
    checked: Checked
    profile: str
    under: Mapping[str, Sequence[str]]
    out_of_reach: Mapping[str, str]
    with_names: bool = False

    @property
    def car(self) -> Car:
        """The car."""
        return self.checked.opened.car

    def figure(self, figure_id: str) -> Figure | None:
        """Return a figure, None where it could not be made."""
        return self.checked.assessment.figures.get(figure_id)

    def plain(self, figure_id: str, label: str = "") -> str:
        """Return a figure's text with its band, or why it is not there."""
        figure = self.figure(figure_id)
        if figure is None:
            return self.reason(figure_id, label)
        return value_text(figure.value, figure_kind(figure), self.profile)

    def text(self, figure_id: str, label: str = "") -> str:
        """Return a figure's text with its band, or the word for what it stands on."""
        return self.plain(figure_id, label) + self._doubt(figure_id)

    def both(self, figure_id: str, label: str = "") -> str:
        """Return a figure's text in electric and in engine terms, power in horsepower first."""
        figure = self.figure(figure_id)
        if figure is None:
            return self.reason(figure_id, label)
        kind = figure_kind(figure)
        electric = tell(figure.value.si, kind, self.profile)
        told = self.plain(figure_id).replace(
            electric, both_texts(figure.value.si, kind, self.profile), 1
        )
        return told + self._doubt(figure_id)

    def engine_text(self, figure_id: str) -> str:
        """Return a figure in engine terms, without the band its electric form has."""
        figure = self.figure(figure_id)
        if figure is None:
            return ""
        return tell(figure.value.si, figure_kind(figure), self.profile, world="engine")

    def entry(self, path: str, kind: str) -> str:
        """Return an entry's text, empty where the build does not give it."""
        value = self.car.get(path)
        return "" if value is None else value_text(value, kind, self.profile)

    def reason(self, figure_id: str, label: str = "") -> str:
        """Return why a figure is not there."""
        assessment = self.checked.assessment
        reason = headline_reason(assessment, figure_id, label, self.profile)
        if reason:
            return reason
        needs = self.needs(figure_id)
        return f"unknown: {as_written(needs[0])}" if needs else "unknown"

    def needs(self, figure_id: str) -> tuple[str, ...]:
        """Return the entries that would give a figure, none where it is there."""
        return lacks_of(self.checked.assessment, self.car, figure_id)

    def note(self, figure_id: str) -> str:
        """Return why a figure cannot stand as it is, empty where it can."""
        return self.out_of_reach.get(figure_id, "")

    def names(self, *figure_ids: str) -> tuple[str, ...]:
        """Return the cell that names a row's figures, none where names are not asked for."""
        return (", ".join(filter(None, figure_ids)),) if self.with_names else ()

    def lacks(self, figure_ids: Iterable[str]) -> bool:
        """Write what would give these figures, once, where none of them is there."""
        ids = tuple(figure_ids)
        if any(self.figure(figure_id) is not None for figure_id in ids):
            return False
        needs = dict.fromkeys(path for each in ids for path in self.needs(each))
        words = f"unknown; would give it: {some(tuple(needs))}" if needs else "unknown"
        self.console.wrapped(words, indent=2)
        return True

    def _doubt(self, figure_id: str) -> str:
        figure = self.figure(figure_id)
        if figure is None:
            return ""
        is_assumed = self.under.get(figure_id) and not figure.value.is_uncertain
        return f"  {ASSUMED}" if is_assumed else ""


def some(paths: Sequence[str], most: int = 5) -> str:
    """Return the first few of some paths, and how many more there are."""
    rest = len(paths) - most
    more = f" and {rest} more" if rest > 0 else ""
    return ", ".join(map(as_written, paths[:most])) + more
