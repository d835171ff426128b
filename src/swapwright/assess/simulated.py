"""How a simulated number becomes a figure: equations, settings, energy ledger, short estimate."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Protocol

from swapwright.assess.book import FigureBook
from swapwright.base.figure import Figure, SimulatedWorking, Value

EQUATIONS = (
    "m_e dv/dt = F_wheel - (A + B v + C (v + w)^2) - m g sin(theta)",
    "P_electrical = T omega + P_motor(T, omega) + P_inverter(T, omega)",
    "V_cell = OCV(z) - R0 I - V1 - V2; dVk/dt = I/Ck - Vk/(Rk Ck), by the exact exponential",
    "dz/dt = -I / Q; I from P = I V_cell, meant over each step",
)
SOURCES = ("gillespie-1992-ch4", "plett-2015-ch2")


class HasEnergy(Protocol):
    """A finished run that knows where its energy went, J."""

    @property
    def energy(self) -> Mapping[str, float]:
        """Return the ledger, which sums to zero."""


def simulated_figure(
    book: FigureBook,
    figure_id: str,
    label: str,
    value: tuple[float, str, str],
    run: HasEnergy,
    estimate: str,
    settings: Mapping[str, str],
    equations: tuple[str, ...] = EQUATIONS,
    sources: tuple[str, ...] = SOURCES,
) -> None:
    """Keep a simulated number (SI, unit, quantity kind) with the run it came from.

    ``estimate`` names the figure that estimates it independently. Raises Missing where that could
    not be made; a number that is not finite is missing too.
    """
    si, unit, kind = value
    short = book.value(estimate)
    if not book.is_number(figure_id, si):
        return
    made = Value(si, unit, "computed", figure_id)
    book.add(
        Figure(
            figure_id,
            label,
            made,
            SimulatedWorking(
                equations=equations,
                settings=MappingProxyType(dict(settings)),
                sources=sources,
                ledger=run.energy,
                estimate=book.figures[estimate],
                deviation=(si - short.si) / short.si if short.si else 0.0,
            ),
            MappingProxyType({"estimate": short}),
            kind,
        )
    )
