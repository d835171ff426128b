"""Typical drag area and rolling resistance, to start from: never a measurement of a car.

Every value is a band: its two ends, and the middle as the single number.
"""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.base.figure import Value


@dataclass(frozen=True)
class BodyStyle:
    """A body style: drag coefficient, frontal area in m^2 and drag area Cd*A in m^2."""

    name: str
    title: str
    cd: Value
    frontal_area: Value
    cd_a: Value


@dataclass(frozen=True)
class TyreStyle:
    """A kind of tyre and its rolling resistance coefficient."""

    name: str
    title: str
    c_rr: Value


_Ends = tuple[float, float]


def _band(ends: _Ends, unit: str, source: str) -> Value:
    low, high = ends
    return Value(0.5 * (low + high), unit, "standard", source, low, high)


def _body(name: str, title: str, cd: _Ends, frontal_area: _Ends, cd_a: _Ends) -> BodyStyle:
    source = "drag-area-typical"
    return BodyStyle(
        name,
        title,
        _band(cd, "1", source),
        _band(frontal_area, "m^2", source),
        _band(cd_a, "m^2", source),
    )


def _tyre(name: str, title: str, c_rr: _Ends) -> TyreStyle:
    return TyreStyle(name, title, _band(c_rr, "1", "rolling-resistance-typical"))


BODY_STYLES = (
    _body("saloon-1960s", "1960s saloon", (0.45, 0.50), (2.0, 2.2), (0.9, 1.1)),
    _body("coupe-1960s", "1960s coupe", (0.40, 0.45), (1.8, 1.9), (0.72, 0.85)),
    _body("saloon-small", "small air-cooled saloon", (0.45, 0.48), (1.8, 1.8), (0.81, 0.86)),
    _body("roadster", "small roadster, top down", (0.50, 0.60), (1.4, 1.5), (0.75, 0.85)),
    _body("box-4x4", "classic 4x4 box", (0.55, 0.65), (2.4, 2.7), (1.4, 1.7)),
    _body("pickup-1970s", "1970s pickup", (0.48, 0.55), (2.6, 2.9), (1.3, 1.6)),
    _body("van-1970s", "1970s van", (0.42, 0.50), (2.3, 2.9), (1.1, 1.4)),
    _body("hatch-1990s", "1990s hatch", (0.32, 0.35), (1.9, 2.0), (0.62, 0.70)),
)

TYRE_STYLES = (
    _tyre("radial-low-resistance", "modern low-resistance radial", (0.008, 0.010)),
    _tyre("radial", "ordinary radial", (0.010, 0.013)),
    _tyre("bias-ply-or-wide", "bias-ply or soft wide tyre", (0.013, 0.018)),
)
