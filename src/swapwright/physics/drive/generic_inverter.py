"""An inverter whose losses no data sheet gives: typical shares of its rating."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from swapwright.physics.drive.inverter import InverterTerms

# Losses over rated power: gating without current; conduction and switching that grow with the phase
# current, and with its square, at the phase current limit. Together 97-98 % at half load
# (inverter-losses-typical).
FIXED_SHARE = 0.0015
LINEAR_SHARE = 0.012
SQUARE_SHARE = 0.008


@dataclass(frozen=True)
class GenericInverter:
    """An inverter's loss terms; ``assumed`` names what was filled, in the data sheet's names."""

    terms: InverterTerms
    assumed: tuple[str, ...]


def complete_inverter(
    *, rated_power: float, phase_current_limit: float, given: Mapping[str, float]
) -> GenericInverter:
    """Return an inverter with the loss terms its data sheet leaves out filled with the typical.

    rated_power: most dc power it handles [W]
    phase_current_limit: [A rms]
    given: SI numbers by the names of an inverter part (``loss_fixed`` [W], ``loss_linear`` [V],
        ``loss_square`` [ohm]); other names are not used
    result: the filled inverter
    source: inverter-losses-typical
    """
    typical = {
        "loss_fixed": FIXED_SHARE * rated_power,
        "loss_linear": LINEAR_SHARE * rated_power / phase_current_limit,
        "loss_square": SQUARE_SHARE * rated_power / phase_current_limit**2,
    }
    fixed, linear, square = (given.get(name, value) for name, value in typical.items())
    return GenericInverter(
        terms=InverterTerms(fixed=fixed, linear=linear, square=square),
        assumed=tuple(name for name in typical if name not in given),
    )
