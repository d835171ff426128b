"""A coolant loop's flow: pressure lost in hoses and parts, and where it meets the pump's curve.

Where the two meet is found by bracketing; beside it stands a short estimate in closed form.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import log, pi, sqrt

from swapwright.base.figure import Symbol, Working

_ROUNDS = 60
_LEAST_SHARE = 1e-6
"""Of the pump's free flow: where the search begins."""


def hose_velocity(*, flow: float, bore: float) -> float:
    """Return the mean velocity of coolant in a hose.

    flow: [m^3/s]
    bore: [m]
    result: [m/s]
    source: the definition of a mean velocity
    """
    return flow / (0.25 * pi * bore**2)


def reynolds_number(*, density: float, velocity: float, bore: float, viscosity: float) -> float:
    """Return the Reynolds number of the flow in a hose.

    density: [kg/m^3]
    velocity: mean [m/s]
    bore: [m]
    viscosity: dynamic [Pa.s]
    result: laminar below about 2100, turbulent above about 4000 [1]
    source: incropera-2007-ch8, the definition
    """
    return density * velocity * bore / viscosity


def friction_factor(*, reynolds: float) -> float:
    """Return the Darcy friction factor of a smooth hose, laminar, turbulent and between.

    reynolds: above 0 [1]
    result: [1]
    source: churchill-1977-friction, with no roughness
    """
    turbulent = (2.457 * log((reynolds / 7.0) ** 0.9)) ** 16
    between = (37530.0 / reynolds) ** 16
    laminar = (8.0 / reynolds) ** 12
    return float(8.0 * (laminar + (turbulent + between) ** -1.5) ** (1.0 / 12.0))


def hose_drop(
    *,
    friction_factor: float,
    length: float,
    bore: float,
    fitting_loss: float,
    density: float,
    velocity: float,
) -> float:
    """Return the pressure lost in the hoses of a loop, with its fittings and bends.

    friction_factor: Darcy's [1]
    length: of all hoses [m]
    bore: [m]
    fitting_loss: loss coefficients of all fittings and bends together [1]
    density: [kg/m^3]
    velocity: mean [m/s]
    result: [Pa]
    source: incropera-2007-ch8, Darcy's equation; minor losses by coefficients
    """
    return (friction_factor * length / bore + fitting_loss) * 0.5 * density * velocity**2


def fitting_loss(*, parts: float, end_loss: float, bends: float, bend_loss: float) -> float:
    """Return the loss coefficients of the fittings and bends of a loop together.

    parts: number of parts the hoses end at [1]
    end_loss: coefficient of a part's two ends [1]
    bends: number of elbows [1]
    bend_loss: coefficient of an elbow [1]
    result: [1]
    source: incropera-2007-ch8, minor losses add up
    """
    return parts * end_loss + bends * bend_loss


def part_drop(*, pressure: float, reference_flow: float, flow: float) -> float:
    """Return the pressure lost in a part at a flow, from its drop at another.

    pressure: lost at the reference flow [Pa]
    reference_flow: [m^3/s]
    flow: [m^3/s]
    result: [Pa]
    source: common practice, no source: a cooled part's drop goes with the square of the flow
    """
    return pressure * (flow / reference_flow) ** 2


def pump_pressure(*, shut_off_pressure: float, free_flow: float, flow: float) -> float:
    """Return the pressure a pump gives at a flow, from the two ends of its curve.

    shut_off_pressure: with no flow [Pa]
    free_flow: with no resistance [m^3/s]
    flow: [m^3/s]
    result: [Pa]
    source: common practice, no source: a centrifugal pump's curve taken as a parabola
    """
    return shut_off_pressure * (1.0 - (flow / free_flow) ** 2)


def flow_estimate(
    *,
    shut_off_pressure: float,
    free_flow: float,
    parts_drop: float,
    reference_flow: float,
    hose_drop: float,
    probe_flow: float,
) -> float:
    """Return the flow of a loop whose every drop goes with the square of the flow.

    shut_off_pressure: of the pump with no flow [Pa]
    free_flow: of the pump with no resistance [m^3/s]
    parts_drop: of the parts at their reference flow [Pa]
    reference_flow: [m^3/s]
    hose_drop: of the hoses at the probe flow [Pa]
    probe_flow: near the answer [m^3/s]
    result: [m^3/s]
    source: own short form: pump and loop as parabolas
    """
    pump = shut_off_pressure / free_flow**2
    loop = parts_drop / reference_flow**2 + hose_drop / probe_flow**2
    return sqrt(shut_off_pressure / (pump + loop))


def probe_flow(*, free_flow: float, share: float) -> float:
    """Return the flow a short estimate reads the hoses' drop at.

    free_flow: of the pump [m^3/s]
    share: of it [1]
    result: [m^3/s]
    source: own short form
    """
    return free_flow * share


def flow_share(*, measured: float, computed: float) -> float:
    """Return a measured flow as a share of the computed one.

    measured: [m^3/s]
    computed: [m^3/s]
    result: [1]
    source: the definition of a share
    """
    return measured / computed


@dataclass(frozen=True)
class LoopBody:
    """A loop as its flow sees it, SI: the pump's two ends, the hoses, the parts' drop, the coolant.

    ``parts_drop`` Pa of all parts at ``reference_flow`` m^3/s; ``fitting_loss`` the coefficients of
    fittings and bends together.
    """

    shut_off_pressure: float
    free_flow: float
    bore: float
    length: float
    fitting_loss: float
    parts_drop: float
    reference_flow: float
    density: float
    viscosity: float

    def pump_at(self, flow: float) -> float:
        """Return what the pump gives at a flow m^3/s, Pa."""
        return pump_pressure(
            shut_off_pressure=self.shut_off_pressure, free_flow=self.free_flow, flow=flow
        )

    def hoses_at(self, flow: float) -> float:
        """Return what the hoses take at a flow m^3/s above 0, Pa."""
        velocity = hose_velocity(flow=flow, bore=self.bore)
        reynolds = reynolds_number(
            density=self.density, velocity=velocity, bore=self.bore, viscosity=self.viscosity
        )
        return hose_drop(
            friction_factor=friction_factor(reynolds=reynolds),
            length=self.length,
            bore=self.bore,
            fitting_loss=self.fitting_loss,
            density=self.density,
            velocity=velocity,
        )

    def parts_at(self, flow: float) -> float:
        """Return what the parts take at a flow m^3/s, Pa."""
        return part_drop(pressure=self.parts_drop, reference_flow=self.reference_flow, flow=flow)


@dataclass(frozen=True)
class LoopFlowResult:
    """Where pump and loop meet: m^3/s, and Pa given by the pump and taken by hoses and parts."""

    flow: float
    pump: float
    hoses: float
    parts: float


def working_flow(loop: LoopBody) -> LoopFlowResult:
    """Return the flow at which the pump gives what hoses and parts take.

    The loop's drop only rises with flow and the pump's pressure only falls, so there is one such
    flow, between none and the pump's free flow.

    loop: pump, hoses, parts and coolant
    result: flow [m^3/s], pressures [Pa]
    source: common practice, no source: pump curve against system curve, by bisection
    """
    low, high = loop.free_flow * _LEAST_SHARE, loop.free_flow
    for _ in range(_ROUNDS):
        middle = 0.5 * (low + high)
        if loop.pump_at(middle) > loop.hoses_at(middle) + loop.parts_at(middle):
            low = middle
        else:
            high = middle
    flow = 0.5 * (low + high)
    return LoopFlowResult(flow, loop.pump_at(flow), loop.hoses_at(flow), loop.parts_at(flow))


_FLOW = Symbol("flow", "m^3/s", 1e-6, 2e-3, "coolant flow", "flow")
_BORE = Symbol("bore", "m", 5e-3, 0.05, "bore of the hose", "length")
_DENSITY = Symbol("density", "kg/m^3", 950.0, 1120.0, "density of the coolant", "density")
_VISCOSITY = Symbol("viscosity", "Pa.s", 2.5e-4, 0.2, "viscosity of the coolant")
_VELOCITY = Symbol("velocity", "m/s", 0.01, 5.0, "velocity in the hose", "speed")
_FREE = Symbol("free_flow", "m^3/s", 5e-5, 2e-3, "flow of the pump with no resistance", "flow")
_SHUT = Symbol("shut_off_pressure", "Pa", 2e3, 3e5, "pressure of the pump with no flow", "pressure")
_REFERENCE = Symbol("reference_flow", "m^3/s", 5e-5, 1e-3, "flow of the parts' drop", "flow")
_DROP = Symbol("pressure", "Pa", 100.0, 1e5, "pressure lost", "pressure")
_CHURCHILL = ("churchill-1977-friction",)
_DARCY = ("incropera-2007-ch8",)
_PRACTICE = ("coolant-loop-practice",)
_SMOOTH = "a smooth round hose, flow settled"
_KINKS = "kinks, a hose that collapses, air in the loop"

HOSE_VELOCITY = Working(
    hose_velocity,
    "Q/(pi*d**2/4)",
    {"Q": _FLOW, "d": _BORE},
    Symbol("v", "m/s", 0.0, 100.0, "velocity in the hose", "speed"),
    _DARCY,
    "the mean over the bore",
    "the profile over the bore",
)

REYNOLDS_NUMBER = Working(
    reynolds_number,
    "rho*v*d/mu",
    {"rho": _DENSITY, "v": _VELOCITY, "d": _BORE, "mu": _VISCOSITY},
    Symbol("Re", "1", 0.0, 1e6, "Reynolds number in the hose"),
    _DARCY,
    _SMOOTH,
    _KINKS,
)

FRICTION_FACTOR = Working(
    friction_factor,
    "8*((8/Re)**12 + ((2.457*log((Re/7)**0.9))**16 + (37530/Re)**16)**(-1.5))**(1/12)",
    {"Re": Symbol("reynolds", "1", 10.0, 1e6, "Reynolds number in the hose")},
    Symbol("f", "1", 0.0, 10.0, "friction factor of the hose"),
    _CHURCHILL,
    _SMOOTH,
    "roughness, a ribbed hose; between laminar and turbulent the flow itself is unsteady",
)

FITTING_LOSS = Working(
    fitting_loss,
    "n*k + b*k_b",
    {
        "n": Symbol("parts", "1", 1.0, 20.0, "parts the hoses end at", "count"),
        "k": Symbol("end_loss", "1", 0.5, 3.0, "loss coefficient of a part's two ends"),
        "b": Symbol("bends", "1", 0.0, 50.0, "elbows", "count"),
        "k_b": Symbol("bend_loss", "1", 0.1, 2.0, "loss coefficient of an elbow"),
    },
    Symbol("K", "1", 0.0, 200.0, "loss coefficients of fittings and bends"),
    _DARCY,
    "each fitting far from the next",
    _KINKS,
)

HOSE_DROP = Working(
    hose_drop,
    "(f*L/d + K)*rho*v**2/2",
    {
        "f": Symbol("friction_factor", "1", 0.01, 6.0, "friction factor of the hose"),
        "L": Symbol("length", "m", 0.1, 30.0, "length of all hoses", "length"),
        "d": _BORE,
        "K": Symbol("fitting_loss", "1", 0.0, 50.0, "loss coefficients of fittings and bends"),
        "rho": _DENSITY,
        "v": _VELOCITY,
    },
    Symbol("dp", "Pa", 0.0, 1e7, "pressure lost in the hoses", "pressure"),
    _DARCY,
    "one bore throughout",
    _KINKS,
)

PART_DROP = Working(
    part_drop,
    "p*(Q/Q_r)**2",
    {"p": _DROP, "Q_r": _REFERENCE, "Q": _FLOW},
    Symbol("dp", "Pa", 0.0, 1e9, "pressure lost in the part", "pressure"),
    _PRACTICE,
    "turbulent flow in the part",
    "thick, cold coolant, which takes more",
)

PUMP_PRESSURE = Working(
    pump_pressure,
    "p_0*(1 - (Q/Q_0)**2)",
    {"p_0": _SHUT, "Q_0": _FREE, "Q": _FLOW},
    Symbol("p", "Pa", -1e9, 1e6, "pressure of the pump", "pressure"),
    _PRACTICE,
    "a centrifugal pump at full speed, wetted and free of air",
    "low supply voltage, thick coolant, wear",
)

FLOW_ESTIMATE = Working(
    flow_estimate,
    "sqrt(p_0/(p_0/Q_0**2 + dp_p/Q_r**2 + dp_h/Q_h**2))",
    {
        "p_0": _SHUT,
        "Q_0": _FREE,
        "dp_p": Symbol("parts_drop", "Pa", 100.0, 1e5, "drop of the parts", "pressure"),
        "Q_r": _REFERENCE,
        "dp_h": Symbol("hose_drop", "Pa", 10.0, 1e5, "drop of the hoses", "pressure"),
        "Q_h": Symbol("probe_flow", "m^3/s", 5e-5, 1e-3, "flow of the hoses' drop", "flow"),
    },
    Symbol("Q", "m^3/s", 0.0, 2e-3, "coolant flow, short estimate", "flow"),
    ("swapwright-loop-flow",),
    "every drop goes with the square of the flow",
    "the friction factor's change between probe and answer",
)

PROBE_FLOW = Working(
    probe_flow,
    "s*Q_0",
    {"s": Symbol("share", "1", 0.2, 0.8, "share of the free flow", "fraction"), "Q_0": _FREE},
    Symbol("Q_h", "m^3/s", 0.0, 1e-2, "flow the short estimate reads the hoses at", "flow"),
    ("swapwright-loop-flow",),
    "a loop's flow lies near half its pump's free flow",
    "nothing",
)

FLOW_SHARE = Working(
    flow_share,
    "Q_m/Q_c",
    {
        "Q_m": Symbol("measured", "m^3/s", 1e-6, 2e-3, "flow measured", "flow"),
        "Q_c": Symbol("computed", "m^3/s", 1e-6, 2e-3, "flow computed", "flow"),
    },
    Symbol("q", "1", 0.0, 1e3, "flow measured over computed", "fraction"),
    ("mechanics-definitions",),
    "the same coolant, as warm",
    "nothing",
)

WORKINGS: tuple[Working, ...] = (
    HOSE_VELOCITY,
    REYNOLDS_NUMBER,
    FRICTION_FACTOR,
    FITTING_LOSS,
    HOSE_DROP,
    PART_DROP,
    PUMP_PRESSURE,
    FLOW_ESTIMATE,
    PROBE_FLOW,
    FLOW_SHARE,
)
