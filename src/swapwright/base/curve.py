"""Curves of an assessment: an axis, series over it, and marks."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Axis:
    """The shared x of a curve: label, quantity kind, SI unit and its points."""

    label: str
    kind: str
    unit: str
    points: tuple[float, ...]


@dataclass(frozen=True)
class Series:
    """One line over the axis; ``notes`` may name something at each point (the binding limit)."""

    label: str
    kind: str
    unit: str
    points: tuple[float | None, ...]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Mark:
    """A named place on the x axis or a level on the y axis."""

    label: str
    x: float | None = None
    y: float | None = None


@dataclass(frozen=True)
class Curve:
    """A curve: what a chart or a table draws."""

    id: str
    label: str
    x: Axis
    ys: tuple[Series, ...]
    marks: tuple[Mark, ...] = ()
    sources: tuple[str, ...] = ()
