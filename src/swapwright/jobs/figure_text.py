"""Figures as a page shows them: the number, its band, what it stands on, or why it is not there."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from swapwright.base.figure import Value
from swapwright.jobs.check import Checked
from swapwright.jobs.grounds import defaults_under, figure_kind
from swapwright.jobs.headline import out_of_reach
from swapwright.jobs.lacking import headline_reason, lacks_of
from swapwright.jobs.telling import tell, value_text

ASSUMED = "assumed"
UNKNOWN = "unknown"


@dataclass(frozen=True)
class FigureText:
    """One figure told: ``text`` its number, ``band`` its ends, ``doubt`` what it stands on.

    ``why`` says why there is no number, or why it cannot stand as it is; ``needs`` are the entries
    that would give it.
    """

    id: str
    label: str
    text: str
    band: str = ""
    doubt: str = ""
    why: str = ""
    needs: tuple[str, ...] = ()

    @property
    def is_unknown(self) -> bool:
        """Tell whether it is not there for want of an entry, not because the car gets there not."""
        return not self.text and (bool(self.needs) or self.why in ("", UNKNOWN))


class Telling:
    """Tells the figures of one assessed car in the units and the world a person wants."""

    def __init__(self, checked: Checked, profile: str, world: str) -> None:
        """Take an assessed car."""
        self.checked = checked
        self.profile = profile
        self.world = world
        self._reach = out_of_reach(checked.assessment)
        self._under: dict[str, Sequence[str]] = {}

    def figures(self, ids: Sequence[str]) -> Mapping[str, FigureText]:
        """Return several figures told, by their ids."""
        known = [each for each in ids if each in self.checked.assessment.figures]
        new = [each for each in known if each not in self._under]
        self._under.update(defaults_under(self.checked.assessment, self.checked.opened.car, new))
        return {each: self._figure(each) for each in ids}

    def figure(self, figure_id: str, label: str = "") -> FigureText:
        """Return one figure told; ``label`` stands for its own where it is not there."""
        found = self.figures((figure_id,))[figure_id]
        return found if found.label else replace(found, label=label)

    def value(self, value: Value, kind: str) -> str:
        """Return any value told, without its band."""
        return tell(value.si, kind, self.profile, world=self.world) if kind else f"{value.si:.4g}"

    def _figure(self, figure_id: str) -> FigureText:
        assessment, car = self.checked.assessment, self.checked.opened.car
        figure = assessment.figures.get(figure_id)
        if figure is None:
            needs = lacks_of(assessment, car, figure_id)
            why = headline_reason(assessment, figure_id, "", self.profile)
            why = why or (f"{UNKNOWN}: {needs[0]}" if needs else UNKNOWN)
            return FigureText(figure_id, "", "", why=why, needs=needs)
        value, kind = figure.value, figure_kind(figure)
        if not kind:
            text = value_text(value, "", self.profile)
            return FigureText(figure_id, figure.label, text, why=self._reach.get(figure_id, ""))
        band = ""
        if value.is_uncertain:
            told = tell(
                value.si, kind, self.profile, world=self.world, low=value.low, high=value.high
            )
            band = told.rpartition(" (")[2].removesuffix(")").replace("..", " to ")
        is_assumed = not band and bool(self._under.get(figure_id))
        return FigureText(
            figure_id,
            figure.label,
            tell(value.si, kind, self.profile, world=self.world),
            band,
            ASSUMED if is_assumed else "",
            self._reach.get(figure_id, ""),
        )
