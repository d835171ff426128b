"""The least or greatest of several values, two at a time: which of them decides."""

from __future__ import annotations

from collections.abc import Callable

from swapwright.base.figure import Symbol, Working


def lesser_torque(*, first: float, second: float) -> float:
    """Return the lesser of two torque limits.

    first, second: limits at the motor's shaft [N.m]
    result: torque [N.m]
    source: definition-least-limit
    """
    return min(first, second)


def lesser_speed(*, first: float, second: float) -> float:
    """Return the lesser of two shaft speed limits.

    first, second: limits [rad/s]
    result: speed [rad/s]
    source: definition-least-limit
    """
    return min(first, second)


def greater_speed(*, first: float, second: float) -> float:
    """Return the greater of two shaft speeds that can occur.

    first, second: speeds [rad/s]
    result: speed [rad/s]
    source: definition-least-limit
    """
    return max(first, second)


def greater_road_speed(*, first: float, second: float) -> float:
    """Return the greater of two road speeds.

    first, second: speeds [m/s]
    result: speed [m/s]
    source: definition-least-limit
    """
    return max(first, second)


def lesser_current(*, first: float, second: float) -> float:
    """Return the lesser of two current limits.

    first, second: limits [A]
    result: current [A]
    source: definition-least-limit
    """
    return min(first, second)


def lesser_power(*, first: float, second: float) -> float:
    """Return the lesser of two power limits.

    first, second: limits [W]
    result: power [W]
    source: definition-least-limit
    """
    return min(first, second)


def lesser_share(*, first: float, second: float) -> float:
    """Return the lesser of two shares.

    first, second: shares [1]
    result: share [1]
    source: definition-least-limit
    """
    return min(first, second)


def lesser_grade(*, first: float, second: float) -> float:
    """Return the lesser of two grades.

    first, second: grades, rise over run [1]
    result: grade [1]
    source: definition-least-limit
    """
    return min(first, second)


def greater_voltage(*, first: float, second: float) -> float:
    """Return the greater of two voltages that can stand at one point.

    first, second: voltages [V]
    result: voltage [V]
    source: definition-least-limit
    """
    return max(first, second)


def lesser_force(*, first: float, second: float) -> float:
    """Return the lesser of two forces at the wheels.

    first, second: forces [N]
    result: force [N]
    source: definition-least-limit
    """
    return min(first, second)


def _least(
    function: Callable[..., float],
    unit: str,
    high: float,
    label: str,
    kind: str,
    which: str = "Min",
) -> Working:
    return Working(
        function,
        f"{which}(x_1, x_2)",
        {
            "x_1": Symbol("first", unit, 0.0, high, "first limit"),
            "x_2": Symbol("second", unit, 0.0, high, "second limit"),
        },
        Symbol(label.replace(" ", "_"), unit, 0.0, high, label, kind),
        ("definition-least-limit",),
        "both limits hold at once",
        "",
    )


WORKINGS: tuple[Working, ...] = (
    _least(lesser_torque, "N.m", 1000.0, "torque limit", "torque"),
    _least(lesser_speed, "rad/s", 2000.0, "speed limit", "angular_speed"),
    _least(greater_speed, "rad/s", 2000.0, "greatest speed", "angular_speed", "Max"),
    _least(greater_road_speed, "m/s", 100.0, "greatest road speed", "speed", "Max"),
    _least(lesser_current, "A", 1000.0, "current limit", "current"),
    _least(lesser_power, "W", 1e6, "power limit", "power"),
    _least(lesser_share, "1", 1.0, "lesser share", "fraction"),
    _least(lesser_grade, "1", 1.0, "lesser grade", "grade"),
    _least(greater_voltage, "V", 1500.0, "greatest voltage", "voltage", "Max"),
    _least(lesser_force, "N", 20000.0, "force limit", "force"),
)
