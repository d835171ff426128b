"""What stands on the wheels, told: as the car is, or with some masses of the ledger elsewhere."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from swapwright.assess.queries import weight_findings_with, weights_with
from swapwright.assess.weight_query import CG_HEIGHT, CG_X_UNLADEN, PLACED_RULES
from swapwright.base.errors import InputError, Problem
from swapwright.base.figure import Figure, Value
from swapwright.base.finding import Finding
from swapwright.build.car import Car
from swapwright.build.shape import rows_by_path
from swapwright.jobs.check import Checked
from swapwright.jobs.form import allowed_text
from swapwright.jobs.telling import tell, value_text

PLACE = "mass[].x"
KINDS = ("remove", "add", "load")
KIND_WORDS: Mapping[str, str] = {"remove": "out", "add": "in", "load": "carried"}
UNKNOWN = "unknown"
UNLADEN, LOADED = "unladen", "loaded"


@dataclass(frozen=True)
class _Place:
    """One place weight stands: its figures unladen and loaded, its limit and its rule."""

    key: str
    label: str
    unladen: str
    loaded: str
    limit: str
    rule: str


_PLACES = (
    _Place(
        "front",
        "front axle",
        "weight.front",
        "weight.front_loaded",
        "car.limits.front_axle",
        "weight.front_axle",
    ),
    _Place(
        "rear",
        "rear axle",
        "weight.rear",
        "weight.rear_loaded",
        "car.limits.rear_axle",
        "weight.rear_axle",
    ),
    _Place("car", "whole car", "mass.kerb", "mass.loaded", "car.limits.gross", "weight.gross"),
    _Place(
        "front_tyre",
        "each front tyre",
        "",
        "weight.front_tyre_load",
        "tyre.load_allowed",
        "weight.front_tyres",
    ),
    _Place(
        "rear_tyre",
        "each rear tyre",
        "",
        "weight.rear_tyre_load",
        "tyre.load_allowed",
        "weight.rear_tyres",
    ),
)
_CENTRES = ((UNLADEN, CG_X_UNLADEN), (LOADED, "weight.cg_x"))


@dataclass(frozen=True)
class Load:
    """What stands at one place, in words; a text is empty where there is no such number.

    ``loaded_id`` is the figure its working is found by, ``finding`` the judgement of it.
    """

    key: str
    label: str
    unladen: str
    loaded: str
    limit: str
    loaded_id: str
    finding: Finding | None

    @property
    def verdict(self) -> str:
        """Return the verdict, empty where nothing is judged."""
        return "" if self.finding is None else self.finding.verdict


@dataclass(frozen=True)
class Centre:
    """A centre of gravity: where it is [m], in words, and its height [m] where the file has it."""

    key: str
    text: str
    x: float
    height: float | None


@dataclass(frozen=True)
class LedgerMass:
    """A row of the mass ledger; numbers are SI, None where the file has none."""

    row: int
    kind: str
    name: str
    mass: float | None
    mass_text: str
    x: float | None
    x_text: str


@dataclass(frozen=True)
class Weights:
    """Everything that stands on the wheels, and what it is made of."""

    loads: tuple[Load, ...]
    centres: tuple[Centre, ...]
    ledger: tuple[LedgerMass, ...]

    def load(self, key: str) -> Load:
        """Return the load at one place."""
        return next(each for each in self.loads if each.key == key)

    @property
    def told(self) -> str:
        """Return the loads in one sentence, for who cannot see them change."""
        parts = [f"{each.label} {each.loaded or each.unladen or UNKNOWN}" for each in self.loads]
        words = [
            f"{part} {each.verdict}".strip() for part, each in zip(parts, self.loads, strict=True)
        ]
        places = [f"centre of gravity {each.key} at {each.text}" for each in self.centres]
        return "; ".join([*words, *places])


def weights_of(
    checked: Checked, profile: str, positions: Mapping[int, float] | None = None
) -> Weights:
    """Return what stands on the wheels of a car; ``positions`` as `weights_with` takes them.

    Raises InputError for a place where no mass can be, or a row that is not there.
    """
    car, assessment = checked.opened.car, checked.assessment
    moved = dict(positions or {})
    _held(car, moved, profile)
    figures = {each.id: each for each in weights_with(car, moved)}
    findings = weight_findings_with(car, moved) if moved else assessment.findings
    if not moved:
        figures |= {key: each for key, each in assessment.figures.items() if key in figures}
    by_rule = {each.rule: each for each in findings if each.rule in PLACED_RULES}
    return Weights(
        tuple(_load(place, car, figures, by_rule, profile) for place in _PLACES),
        tuple(_centres(figures, profile)),
        ledger_of(car, profile, moved),
    )


def ledger_of(
    car: Car, profile: str, positions: Mapping[int, float] | None = None
) -> tuple[LedgerMass, ...]:
    """Return the rows of the mass ledger, some of them at other places."""
    moved = positions or {}
    rows = []
    for row in range(car.counts.get("mass", 0)):
        at = f"mass[{row}]"
        kind = next((each for each in KINDS if f"{at}.{each}" in car.texts), "")
        mass, place = car.get(f"{at}.mass"), car.get(f"{at}.x")
        x = moved.get(row, None if place is None else place.si)
        rows.append(
            LedgerMass(
                row,
                kind,
                car.texts.get(f"{at}.{kind}", ""),
                None if mass is None else mass.si,
                "" if mass is None else value_text(mass, "mass", profile),
                x,
                "" if x is None else position_text(x, profile),
            )
        )
    return tuple(rows)


def position_text(x: float, profile: str) -> str:
    """Return a place as a person would write it into the file: ``1.35 m``, ``-21.5 in``."""
    bare, _, unit = tell(x, "position", profile, digits=4).partition(" ")
    return f"{bare.rstrip('0').rstrip('.') if '.' in bare else bare} {unit}"


def _held(car: Car, positions: Mapping[int, float], profile: str) -> None:
    """Raise InputError for a place no row can have, or a row the file has not."""
    field = rows_by_path()[PLACE]
    rows = car.counts.get("mass", 0)
    low, high = (-1e9 if field.low is None else field.low), (field.high or 1e9)
    for row, x in positions.items():
        path = f"mass[{row}].x"
        if not 0 <= row < rows:
            raise InputError(Problem("", path, "there is no such row"))
        if not low <= x <= high:
            allowed = allowed_text(field, profile)
            raise InputError(Problem("", path, "no mass can be there", allowed=allowed))


def _load(
    place: _Place,
    car: Car,
    figures: Mapping[str, Figure],
    findings: Mapping[str, Finding],
    profile: str,
) -> Load:
    finding = findings.get(place.rule)
    loaded = _text(figures.get(place.loaded), profile)
    if loaded and finding is not None and finding.assumed:
        loaded += " (assumed)"
    limit = _limit(place.limit, car, figures)
    return Load(
        place.key,
        place.label,
        _text(figures.get(place.unladen), profile),
        loaded,
        "" if limit is None else value_text(limit, "mass", profile),
        place.loaded if place.loaded in figures else "",
        finding,
    )


def _limit(name: str, car: Car, figures: Mapping[str, Figure]) -> Value | None:
    figure = figures.get(name)
    return car.get(name) if figure is None else figure.value


def _text(figure: Figure | None, profile: str) -> str:
    return "" if figure is None else value_text(figure.value, "mass", profile)


def _centres(figures: Mapping[str, Figure], profile: str) -> Iterator[Centre]:
    """Yield the centres of gravity; without a load the assessment's own is the unladen one."""
    height = figures.get(CG_HEIGHT)
    for key, figure_id in _CENTRES:
        figure = figures.get(figure_id)
        if figure is None or (key == LOADED and "weight.rear_loaded" not in figures):
            continue
        yield Centre(
            key,
            value_text(figure.value, "position", profile),
            figure.value.si,
            None if height is None else height.value.si,
        )
