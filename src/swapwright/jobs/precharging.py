"""A precharge told: how long it takes, where it ends, and the signs of what is wrong with it."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.circuit.filling import Filled, FillingCase, end_share_unloaded
from swapwright.assess.queries import precharge_with
from swapwright.base.errors import InputError, Problem, UnitError
from swapwright.base.quantity import parse
from swapwright.build.car import Car
from swapwright.build.circuit import model
from swapwright.build.circuit.model import Circuit
from swapwright.jobs.account import Account, Fact, Moment
from swapwright.jobs.naming import elements_called
from swapwright.jobs.telling import tell

AT_ONCE = 0.2
SLOW = 1.25
NOTHING = 0.02
"""Shares by which a precharge counts as over at once, as slow, as short of the whole or nothing."""


@dataclass(frozen=True)
class PrechargeOrder:
    """A precharge with loads left on, another resistor, a leak; ohms as a person typed them."""

    loads: tuple[str, ...] = ()
    resistor: str | None = None
    leak: str | None = None


def precharge_account(
    car: Car, circuit: Circuit, order: PrechargeOrder, opened: tuple[str, ...]
) -> Account:
    """Return how the link fills, beside how it fills as drawn; raise InputError, Missing."""
    case = FillingCase(
        loads=elements_called(circuit, "--load", order.loads, model.CONVERTERS),
        resistor=_ohms("--resistor", order.resistor, is_above_zero=True),
        leak=_ohms("--leak", order.leak),
        opened=elements_called(circuit, "--open", opened),
    )
    drawn = precharge_with(car, FillingCase())
    is_drawn = case == FillingCase()
    result = drawn if is_drawn else precharge_with(car, case)
    return Account(
        f"Precharge: {_case_words(order, opened) or 'as drawn'}",
        _facts(result),
        _moments(result),
        () if is_drawn else (("As drawn, to compare", _facts(drawn)[:6]),),
        (*_signs(result, drawn), "Ends of the resistor and of the link are live all through."),
    )


def _ohms(option: str, text: str | None, *, is_above_zero: bool = False) -> float | None:
    if text is None:
        return None
    try:
        si = parse(text, "resistance").si
    except UnitError as error:
        problem = Problem(option, "", error.message, text, error.allowed, error.nearest)
        raise InputError(problem) from None
    if si < 0.0 or (is_above_zero and si == 0.0):
        raise InputError(Problem(option, "", "this is no resistance", text, "above 0 ohm"))
    return si


def _case_words(order: PrechargeOrder, opened: tuple[str, ...]) -> str:
    words = [f"{name} left on" for name in order.loads]
    words += [f"resistor {order.resistor}"] if order.resistor else []
    words += [f"a leak of {order.leak} across the link"] if order.leak else []
    words += [f"{name} open" for name in opened]
    return ", ".join(words)


def _facts(result: Filled) -> tuple[Fact, ...]:
    timed = [
        Fact(
            f"to_{share * 100:.0f}",
            f"to {_percent(share)}",
            time,
            "time",
            "" if time is not None else "never reached",
        )
        for share, time in result.reached.items()
    ]
    making = Fact("making", "main contactor would close on", result.making, "current", "at most")
    if result.making is None:
        making = Fact("making", "main contactor would close on", None, "current", "not known")
    return (
        *timed,
        Fact("end", "link voltage at the end", result.end, "voltage"),
        Fact("left", "left across the main contactor", result.left, "voltage"),
        making,
        Fact("resistance", "resistor", result.resistance, "resistance"),
        Fact("capacitance", "to be filled", result.capacitance, "capacitance"),
        Fact("peak_current", "current at the first instant", result.peak_current, "current"),
        Fact("energy", "heat in the resistor", result.energy, "energy", _over(result)),
        Fact("power_at_end", "power of the resistor at the end", result.power_at_end, "power"),
    )


def _percent(share: float) -> str:
    return f"{share * 100:.0f} %"


def _over(result: Filled) -> str:
    return f"in {tell(result.duration, 'time', 'metric')}"


def _moments(result: Filled) -> tuple[Moment, ...]:
    found = [Moment(0.0, "the precharge relay closes")]
    for share, time in result.reached.items():
        if time is not None:
            volts = tell(result.volts_at(share), "voltage", "metric")
            found.append(Moment(time, f"{volts} on the link, {_percent(share)}"))
    if result.until_time is not None and result.closes:
        left = tell(result.left, "voltage", "metric")
        found.append(Moment(result.until_time, f"the main contactor may close, {left} across it"))
    if result.timeout is not None and not result.closes:
        found.append(Moment(result.timeout, "precharge is given up"))
    return tuple(sorted(found, key=lambda moment: moment.time))


def _signs(result: Filled, drawn: Filled) -> tuple[str, ...]:
    """Return what a person would see, and what it is a sign of."""
    share = result.end_share
    if share < NOTHING and result.peak_current <= 0.0:
        return (
            "Sign: the link stays at nothing and the resistor cold: relay, fuse or resistor open.",
        )
    if share < NOTHING:
        return (
            "Sign: the link stays near nothing and the resistor gets very hot: a short behind it. "
            "Precharge must be given up before the resistor's pulse is used up.",
        )
    if end_share_unloaded(result, drawn) - share > NOTHING:
        return (
            f"Sign: the voltage rises, then stands at {_percent(share)} for good while the "
            "resistor goes on heating: a load left on, or a leak across the link. A timer alone "
            "would close the main contactor on what is left.",
        )
    before, now = _time(drawn), _time(result)
    if before is not None and now is not None and now < AT_ONCE * before:
        return (
            "Sign: over almost at once: the capacitor is open or not connected, the resistor is "
            "far too small, or the main contactor has welded.",
        )
    if now is None or (before is not None and now > SLOW * before):
        return (
            "Sign: the right shape, stretched in time: the resistor is larger than drawn, or there "
            "is more capacitance.",
        )
    if before is not None and now < before / SLOW:
        return ("Sign: the right shape, shorter: a smaller resistor, or less capacitance.",)
    return ("Sign: a curve that flattens out and reaches the pack's voltage: as drawn.",)


def _time(result: Filled) -> float | None:
    return next(iter(result.reached.values()), None)
