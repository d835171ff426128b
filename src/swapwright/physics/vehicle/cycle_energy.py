"""Wheel energy over a drive cycle: what the road takes and what braking gives back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt


@dataclass(frozen=True)
class CycleEnergy:
    """Wheel energy over a cycle.

    ``traction`` sums the energy of every interval that drives, ``braking`` the magnitude of every
    one that brakes, both J; ``distance`` in m, ``duration`` in s.
    """

    traction: float
    braking: float
    distance: float
    duration: float

    @property
    def net(self) -> float:
        """Return what the road keeps of the traction energy, J."""
        return self.traction - self.braking

    @property
    def mean_speed(self) -> float:
        """Return the mean speed, stops included, m/s."""
        return self.distance / self.duration


def cycle_energy(
    speeds: Sequence[float] | npt.NDArray[np.float64],
    *,
    a: float,
    b: float,
    c: float,
    effective_mass: float,
    step: float = 1.0,
) -> CycleEnergy:
    """Return the wheel energy over a speed trace, each interval at its middle speed.

    speeds: at equal times, m/s. a: with any grade force in it, N. b: N/(m/s). c: N/(m/s)^2.
    effective_mass: kg. step: time between speeds, s. Raises ValueError below two speeds.
    Source: Guzzella and Sciarretta 2013, chapter 2, mean tractive force (from memory).
    """
    trace = np.asarray(speeds, dtype=np.float64)
    if trace.size < 2:
        raise ValueError("a cycle needs at least two speeds")
    middle = (trace[1:] + trace[:-1]) / 2.0
    inertia = effective_mass * np.diff(trace) / step
    power = (a + b * middle + c * middle**2 + inertia) * middle
    driving, braking = np.maximum(power, 0.0), np.maximum(-power, 0.0)
    return CycleEnergy(
        traction=float(driving.sum()) * step,
        braking=float(braking.sum()) * step,
        distance=float(middle.sum()) * step,
        duration=(trace.size - 1) * step,
    )
