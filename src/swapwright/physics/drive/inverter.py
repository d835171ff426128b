"""An inverter's losses: gating, conduction and switching over the phase current."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from swapwright.base.figure import Symbol, Working

FloatArray = NDArray[np.float64]


def inverter_loss(
    *, loss_fixed: float, loss_linear: float, loss_square: float, phase_current: float
) -> float:
    """Return the heat an inverter makes while gating.

    loss_fixed: without current [W]
    loss_linear: per phase ampere rms [V]
    loss_square: per phase ampere rms squared [ohm]
    phase_current: rms [A]
    result: loss [W]
    source: mohan-2003-inverter-loss, from memory
    """
    return loss_fixed + loss_linear * phase_current + loss_square * phase_current**2


def inverter_efficiency(*, power: float, loss: float) -> float:
    """Return an inverter's efficiency while it drives.

    power: ac power out [W]
    loss: all losses of the inverter [W]
    result: ac power over dc power [1]
    source: definition-machine-efficiency
    """
    return power / (power + loss)


@dataclass(frozen=True)
class InverterTerms:
    """What an inverter's losses are made of: ``fixed`` [W], ``linear`` [V], ``square`` [ohm]."""

    fixed: float
    linear: float
    square: float


def inverter_loss_map(terms: InverterTerms, phase_currents: FloatArray) -> FloatArray:
    """Return the losses of an inverter over an array of phase currents.

    terms: the inverter's loss terms
    phase_currents: any shape [A rms]
    result: losses, same shape [W]
    source: mohan-2003-inverter-loss, from memory
    """
    return terms.fixed + terms.linear * phase_currents + terms.square * phase_currents**2


_POWER = Symbol("power", "W", 10.0, 5e5, "ac power out")
_LOSS = Symbol("loss", "W", 1.0, 2e4, "inverter loss")
INVERTER_LOSS = Working(
    inverter_loss,
    "a + b * I + c * I**2",
    {
        "a": Symbol("loss_fixed", "W", 0.0, 1000.0, "fixed loss"),
        "b": Symbol("loss_linear", "V", 0.0, 20.0, "loss per ampere"),
        "c": Symbol("loss_square", "ohm", 0.0, 0.05, "loss per ampere squared"),
        "I": Symbol("phase_current", "A", 0.0, 1000.0, "phase current, rms"),
    },
    Symbol("inverter_loss", "W", 0.0, 1e5, "inverter loss"),
    ("mohan-2003-inverter-loss",),
    "dc voltage and switching frequency as for the terms",
    "switching loss at another dc voltage",
)

INVERTER_EFFICIENCY = Working(
    inverter_efficiency,
    "P / (P + P_loss)",
    {"P": _POWER, "P_loss": _LOSS},
    Symbol("inverter_efficiency", "1", 0.0, 1.0, "inverter efficiency", "fraction"),
    ("definition-machine-efficiency",),
    "driving",
    "",
)

WORKINGS: tuple[Working, ...] = (
    INVERTER_LOSS,
    INVERTER_EFFICIENCY,
)
