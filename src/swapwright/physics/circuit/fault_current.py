"""The current of a fault fed by a pack: how high it can go, how fast it rises, what it heats."""

from __future__ import annotations

from math import expm1

from swapwright.base.figure import Symbol, Working


def prospective_current(*, voltage: float, resistance: float) -> float:
    """Return the current a dead short would settle at.

    voltage: of the source behind its resistance [V]
    resistance: of source and loop together [ohm]
    result: current [A]
    source: definition-ohm
    """
    return voltage / resistance


def time_constant(*, inductance: float, resistance: float) -> float:
    """Return the time constant of a loop's current.

    inductance: of source and loop together [H]
    resistance: of source and loop together [ohm]
    result: L/R [s]
    source: nilsson-2011-ch7, from memory
    """
    return inductance / resistance


def fault_current(*, prospective: float, time_constant: float, time: float) -> float:
    """Return the current of a fault some time after it began.

    At the moment a fuse has melted this is the peak it lets through.

    prospective: current the fault would settle at [A]
    time_constant: L/R of the loop [s]
    time: since the fault began [s]
    result: current [A]
    source: nilsson-2011-ch7, from memory
    """
    return -prospective * expm1(-time / time_constant)


def fault_i2t(*, prospective: float, time_constant: float, time: float) -> float:
    """Return the integral of the squared current of a fault since it began.

    prospective: current the fault would settle at [A]
    time_constant: L/R of the loop [s]
    time: since the fault began [s]
    result: I2t [A^2.s]
    source: nilsson-2011-ch7, from memory; its current squared and integrated
    """
    x = time / time_constant
    if x < 0.02:
        # The closed form is a small difference of large terms here; this is its series.
        share = x**3 * (1.0 / 3.0 - x / 4.0 + 7.0 * x**2 / 60.0 - x**3 / 24.0)
    else:
        share = x + 2.0 * expm1(-x) - 0.5 * expm1(-2.0 * x)
    return prospective**2 * time_constant * share


def discharge_i2t(*, capacitance: float, voltage: float, resistance: float) -> float:
    """Return the I2t of a capacitor emptied, or filled, through a resistance.

    It is the same with inductance in the loop, so long as the current only ever leaves as heat.

    capacitance: of the link [F]
    voltage: across the resistance at the start [V]
    resistance: of the loop, or of the precharge resistor [ohm]
    result: I2t [A^2.s]
    source: definition-electric-power; half C V^2 is all turned to heat in the resistance
    """
    return capacitance * voltage**2 / (2.0 * resistance)


_V = Symbol("voltage", "V", 20.0, 1000.0, "source voltage")
_R = Symbol("resistance", "ohm", 1e-3, 10.0, "resistance of the whole loop")
_I0 = Symbol("prospective", "A", 10.0, 50e3, "prospective current")
_TAU = Symbol("time_constant", "s", 1e-5, 20e-3, "time constant L/R")
_T = Symbol("time", "s", 1e-4, 1.0, "time since the fault began")
_STIFF = "source voltage and resistance steady for as long as the fault lasts"

PROSPECTIVE_CURRENT = Working(
    prospective_current,
    "V/R",
    {"V": _V, "R": _R},
    Symbol("prospective_current", "A", 0.0, 1e6, "prospective short-circuit current"),
    ("definition-ohm",),
    "a bolted fault: no resistance at the fault itself; ohmic resistance of the cells",
    "link capacitors emptying into the same fault; an arc at the fault",
)

TIME_CONSTANT = Working(
    time_constant,
    "L/R",
    {"L": Symbol("inductance", "H", 1e-7, 1e-4, "inductance of the whole loop"), "R": _R},
    Symbol("time_constant", "s", 0.0, 1.0, "time constant L/R"),
    ("nilsson-2011-ch7",),
    "inductance does not change with current",
    "",
)

FAULT_CURRENT = Working(
    fault_current,
    "I_p*(1 - exp(-t/tau))",
    {"I_p": _I0, "tau": _TAU, "t": _T},
    Symbol("fault_current", "A", 0.0, 1e5, "fault current"),
    ("nilsson-2011-ch7",),
    _STIFF,
    "current of the link capacitors",
)

FAULT_I2T = Working(
    fault_i2t,
    "I_p**2*(t - 2*tau*(1 - exp(-t/tau)) + tau/2*(1 - exp(-2*t/tau)))",
    {"I_p": _I0, "tau": _TAU, "t": _T},
    Symbol("fault_i2t", "A^2.s", 0.0, 1e12, "I2t of the fault"),
    ("nilsson-2011-ch7",),
    _STIFF,
    "current of the link capacitors",
    "t > 0.05*tau",
)

DISCHARGE_I2T = Working(
    discharge_i2t,
    "C*V**2/(2*R)",
    {
        "C": Symbol("capacitance", "F", 1e-6, 0.02, "capacitance"),
        "V": Symbol("voltage", "V", 1.0, 1000.0, "voltage across the loop at the start"),
        "R": Symbol("resistance", "ohm", 1e-3, 1e4, "resistance of the loop"),
    },
    Symbol("discharge_i2t", "A^2.s", 0.0, 1e9, "I2t of the capacitor's surge"),
    ("definition-electric-power",),
    "run to its end, through one resistance",
    "heat in the capacitor's own resistance, which takes its share of it",
)

WORKINGS: tuple[Working, ...] = (
    PROSPECTIVE_CURRENT,
    TIME_CONSTANT,
    FAULT_CURRENT,
    FAULT_I2T,
    DISCHARGE_I2T,
)
