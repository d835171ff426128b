"""A circuit between two switchings: linear ones by the matrix exponential, others step by step.

A double carries sixteen digits, so a share of about 1e-16 times the fastest rate times the length
of an interval is lost: nothing for a precharge, 1e-8 for a minute of chassis capacitors behind
cables of a microhenry, 1e-5 where those cables are given no inductance.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import ceil, log2

import numpy as np

from swapwright.physics.circuit.mesh import Mesh
from swapwright.physics.circuit.network import Array
from swapwright.physics.circuit.part import NetworkError

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(8)
_SMALL = 0.25
"""Largest rate times step at which eight Gauss points and the terms are exact to the last digit."""

_TERMS = 15


@dataclass(frozen=True)
class Watch:
    """A row whose value on the state crosses zero upwards, or an I2t that reaches a level."""

    row: Array
    power: Array  # the row's part on the currents of the power parts
    is_square: bool = False
    level: float = 0.0  # of an I2t: what is still missing


@dataclass(frozen=True)
class Run:
    """An interval: states at the times asked, the state at its end, and what flowed in it.

    squares, charges: integrals of each branch's current squared and plain [A2s], [C]
    forced: integral of the voltage across each current part [Vs]
    drawn: energy of each power part [J]
    peaks: greatest current of each branch asked for, either way, and its time [A], [s]
    fired: which watch ended it, None where time did
    """

    states: Array
    end: Array
    length: float
    squares: Array
    charges: Array
    forced: Array
    drawn: Array
    peaks: tuple[tuple[float, float], ...]
    fired: int | None


@dataclass(frozen=True)
class Ask:
    """What is wanted of an interval: its longest length, states at times, peaks, watches."""

    span: float
    times: Array
    peaks: Sequence[int] = ()
    watches: Sequence[Watch] = ()


def _expm(matrix: Array) -> Array:
    from scipy.linalg import expm  # type: ignore[import-untyped]

    return np.asarray(expm(matrix), dtype=np.float64)


def _root(function: Callable[[float], float], low: float, high: float) -> float:
    from scipy.optimize import brentq  # type: ignore[import-untyped]

    return float(brentq(function, low, high, xtol=1e-16, rtol=1e-14))


def power_currents(mesh: Mesh, z: Array) -> Array:
    """Return the current of each power part at a state.

    mesh: the equations of the network
    z: its state
    result: [A]; power over voltage, below the cutoff the resistance that power has there
    source: definition of electric power
    """
    if not mesh.loads:
        return np.zeros(0)
    power = np.array([part.value for part in mesh.loads])
    cutoff = np.array([part.cutoff for part in mesh.loads])
    idle = mesh.load_voltage @ z
    voltage = idle
    for _ in range(50):
        is_up = np.abs(voltage) >= cutoff
        divisor = np.where(is_up, voltage, cutoff)
        current = np.where(is_up, power / divisor, power * voltage / cutoff**2)
        miss = voltage - idle + mesh.load_resistance @ current
        if np.all(np.abs(miss) <= 1e-14 * np.maximum(np.abs(idle), cutoff)):
            break
        slope = np.where(is_up, -1.0, 1.0) * power / divisor**2
        voltage = voltage - np.linalg.solve(np.eye(len(power)) + mesh.load_resistance * slope, miss)
    return np.asarray(current)


def power_currents_along(mesh: Mesh, states: Array) -> Array:
    """Return the current of each power part at each of many states (see `power_currents`)."""
    found = np.zeros((len(states), len(mesh.loads)))
    if mesh.loads:
        for row, z in enumerate(states):
            found[row] = power_currents(mesh, z)
    return found


def check_loads(mesh: Mesh) -> None:
    """Raise NetworkError for a power part whose voltage would not be one number."""
    for row, part in enumerate(mesh.loads):
        if part.cutoff <= 0.0:
            raise NetworkError(f"{part.name}: a power part needs a cutoff voltage", part.name)
        if mesh.load_resistance[row, row] * abs(part.value) >= part.cutoff**2:
            raise NetworkError(
                f"{part.name}: its supply is too weak at its cutoff of {part.cutoff:g} V to give"
                f" {part.value:g} W without a capacitor across it",
                part.name,
            )


def integrals(rate: Array, z: Array, length: float) -> tuple[Array, Array]:
    """Return the state after a time, and the integral of its products with itself.

    Both start from a step so short that a few Gauss points are exact, and double it: sums of
    squares only, nothing grows where the circuit decays.

    rate: of the state [1/s]
    z: the state
    length: [s]
    result: the state, the integral of each pair of its entries
    source: matrix exponential by scaling and squaring
    """
    size = _fastest(rate) * length
    doublings = max(0, ceil(log2(size / _SMALL))) if size > 0.0 else 0
    step = length / 2.0**doublings
    across, term = np.eye(len(z)), np.eye(len(z))
    terms = [z]  # of the series of the state: the k-th by time to the k
    for k in range(1, _TERMS):
        term = term @ rate * (step / k)
        across = across + term
        terms.append(rate @ terms[-1] / k)
    moments = 0.5 * step * (1.0 + _NODES)
    points = moments[:, None] ** np.arange(_TERMS) @ np.array(terms)
    products: Array = (points * (0.5 * step * _WEIGHTS)[:, None]).T @ points
    for _ in range(doublings):
        products = products + across @ products @ across.T
        across = across @ across
    return across @ z, products


def run_linear(mesh: Mesh, z: Array, ask: Ask) -> Run:
    """Advance a network without power parts, exactly, to the end of a span or the first watch.

    mesh: the equations of the network
    z: the state at the outset
    ask: what is wanted
    result: what happened
    source: matrix exponential; roots by Brent's method on the exact solution
    """
    length, fired, grid, states = ask.span, None, np.zeros(1), z[None, :]
    if ask.watches or ask.peaks:
        grid, states = _followed(mesh.rate, z, ask.span)
    for number, watch in enumerate(ask.watches):
        found = _first(mesh.rate, z, grid[grid <= length], states, watch)
        if found is not None and (fired is None or found < length):
            length, fired = found, number
    end, products = integrals(mesh.rate, z, length)
    times = ask.times[ask.times < length]
    sums = products[:, -1] / mesh.unit
    is_in = grid < length
    grid, states = np.append(grid[is_in], length), np.vstack([states[is_in], end])
    return Run(
        states=_march(mesh.rate, z, times),
        end=end,
        length=length,
        squares=np.einsum("ki,ij,kj->k", mesh.current, products, mesh.current),
        charges=mesh.current @ sums,
        forced=_forced_rows(mesh) @ mesh.voltage @ sums,
        drawn=np.zeros(0),
        peaks=tuple(_peak(mesh, k, grid, states) for k in ask.peaks),
        fired=fired,
    )


def _forced_rows(mesh: Mesh) -> Array:
    rows = [mesh.paths[part.a] - mesh.paths[part.b] for part in mesh.forced]
    return np.array(rows).reshape(len(rows), len(mesh.branches))


def _first(rate: Array, z: Array, grid: Array, states: Array, watch: Watch) -> float | None:
    """Return the time a watch first holds, None where it does not."""
    values = _values(rate, grid, states[: len(grid)], watch)
    hits = np.flatnonzero(values >= 0.0)
    if not len(hits):
        return None
    k = int(hits[0])
    if k == 0:
        return 0.0

    def missing(time: float) -> float:
        if watch.is_square:
            return float(watch.row @ integrals(rate, z, time)[1] @ watch.row - watch.level)
        return float(watch.row @ _expm(rate * time) @ z)

    low, high = float(grid[k - 1]), float(grid[k])
    # the grid is marched, the root is not: a last digit may lie between the two
    if not missing(low) < 0.0 <= missing(high):
        return high
    return _root(missing, low, high)


def _peak(mesh: Mesh, k: int, grid: Array, states: Array) -> tuple[float, float]:
    """Return the greatest current of a branch, either way, and its time."""
    row = mesh.current[k]
    slope = row @ mesh.rate
    at = int(np.argmax(np.abs(states @ row)))
    for before in (at - 1, at):
        if not 0 <= before < len(grid) - 1:
            continue
        start, span = states[before], float(grid[before + 1] - grid[before])

        def rise(time: float, start: Array = start) -> float:
            return float(slope @ _expm(mesh.rate * time) @ start)

        if span > 0.0 and rise(0.0) * rise(span) < 0.0:
            time = _root(rise, 0.0, span)
            return float(row @ _expm(mesh.rate * time) @ start), float(grid[before]) + time
    return float(row @ states[at]), float(grid[at])


def _fastest(rate: Array) -> float:
    return float(np.abs(rate[:-1, :-1]).sum(axis=0).max(initial=0.0))


def _followed(rate: Array, z: Array, span: float) -> tuple[Array, Array]:
    """Return times that follow the first swings as closely as the last decay, and the states.

    Steps double in length, so each way across one is the square of the one before.
    """
    fastest = max(_fastest(rate), 1e-300)
    longest = span / 200.0
    halvings = max(0, ceil(log2(4.0 * fastest * longest))) if span > 0.0 else 0
    step = longest / 2.0**halvings
    across = _expm(rate * step)
    times, states = [0.0], [z]
    for octave in range(halvings + 1):
        count = 400 if octave == 0 else 16
        while count > 0 or octave == halvings:
            time = times[-1] + step
            if time >= span:
                break
            z = across @ z
            times.append(time)
            states.append(z)
            count -= 1
        step, across = 2.0 * step, across @ across
    if span > times[-1]:
        states.append(_expm(rate * (span - times[-1])) @ states[-1])
        times.append(span)
    return np.array(times), np.array(states)


def _march(rate: Array, z: Array, times: Array) -> Array:
    """Return the states at rising times, each from the one before."""
    states = np.zeros((len(times), len(z)))
    if not len(times):
        return states
    # even spacing differs in its last digit: such steps are taken as one, and made good after
    grain = max(float(times[-1]), 1e-300) * 1e-13
    alike = np.round(np.diff(times, prepend=0.0) / grain) * grain
    ways: dict[float, Array] = {}
    fastest, now = _fastest(rate), 0.0
    for row, (step, time) in enumerate(zip(alike.tolist(), times.tolist(), strict=True)):
        if fastest * abs(now + step - time) > 1e-7:
            step, ways[time - now] = time - now, _expm(rate * (time - now))
        elif step not in ways:
            ways[step] = _expm(rate * step)
        z = ways[step] @ z
        now += step
        states[row] = z + rate @ z * (time - now)
    return states


def _values(rate: Array, grid: Array, states: Array, watch: Watch) -> Array:
    """Return what a watch sees on the grid: at or above zero where it holds."""
    if not watch.is_square:
        return np.asarray(states @ watch.row)
    values = np.full(len(grid), -watch.level)
    for row, step in enumerate(np.diff(grid).tolist()):
        flow = watch.row @ integrals(rate, states[row], step)[1] @ watch.row
        values[row + 1 :] += float(flow)
        if values[row + 1] >= 0.0:
            break
    return values


def run_stiff(mesh: Mesh, z: Array, ask: Ask) -> Run:
    """Advance a network with power parts, to the end of a span or the first watch.

    mesh: the equations of the network
    z: the state at the outset
    ask: what is wanted
    result: what happened
    source: Radau IIA of order 5, relative tolerance 1e-8, absolute 1e-9
    """
    from scipy.integrate import solve_ivp  # type: ignore[import-untyped]

    size, count = len(z) - 1, len(mesh.branches)
    events = [_watcher(mesh, watch, size) for watch in ask.watches]
    end = np.concatenate([z[:-1], np.zeros(2 * count + len(mesh.forced) + len(mesh.loads))])
    fired = next((k for k, value in enumerate(events) if value(0.0, end) >= 0.0), None)
    length = 0.0 if fired is not None else ask.span
    times, path = np.zeros(1), end[:, None]
    if length > 0.0:
        answer = solve_ivp(
            _slope(mesh, size),
            (0.0, length),
            end,
            method="Radau",
            t_eval=np.unique(np.concatenate([np.linspace(0.0, length, 401), ask.times, [length]])),
            rtol=1e-8,
            atol=1e-9,
            events=events or None,
        )
        if answer.status < 0:
            raise NetworkError(f"the network could not be followed in time: {answer.message}")
        times, path = answer.t, answer.y
        hits = [k for k, found in enumerate(answer.t_events or ()) if len(found)]
        if hits:
            fired, length = hits[0], float(answer.t_events[hits[0]][0])
            times = np.append(times, length)
            path = np.column_stack([path, answer.y_events[hits[0]][0]])
        end = path[:, -1]
    states = np.column_stack([path[:size].T, np.full(len(times), mesh.unit)])
    flows = np.split(end[size:], np.cumsum([count, count, len(mesh.forced)]))
    return Run(
        states=states[np.searchsorted(times, ask.times[ask.times < length])],
        end=np.append(end[:size], mesh.unit),
        length=length,
        squares=flows[0],
        charges=flows[1],
        forced=flows[2],
        drawn=flows[3],
        peaks=_peaks_seen(mesh, ask.peaks, times, states),
        fired=fired,
    )


def _slope(mesh: Mesh, size: int) -> Callable[[float, Array], Array]:
    forced = _forced_rows(mesh)

    def slope(_: float, y: Array) -> Array:
        z = np.append(y[:size], mesh.unit)
        power = power_currents(mesh, z)
        current = mesh.current @ z + mesh.current_power @ power
        voltage = mesh.voltage @ z + mesh.voltage_power @ power
        rate = mesh.rate @ z + mesh.rate_power @ power
        volts = mesh.load_voltage @ z - mesh.load_resistance @ power
        return np.concatenate([rate[:-1], current**2, current, forced @ voltage, volts * power])

    return slope


def _watcher(mesh: Mesh, watch: Watch, size: int) -> Callable[[float, Array], float]:
    count = len(mesh.branches)

    def value(_: float, y: Array) -> float:
        if watch.is_square:
            return float(y[size : size + count] @ watch.row - watch.level)
        z = np.append(y[:size], mesh.unit)
        return float(watch.row @ z + watch.power @ power_currents(mesh, z))

    value.terminal = True  # type: ignore[attr-defined]
    value.direction = 1.0  # type: ignore[attr-defined]
    return value


def _peaks_seen(
    mesh: Mesh, asked: Sequence[int], times: Array, states: Array
) -> tuple[tuple[float, float], ...]:
    power = power_currents_along(mesh, states)
    currents = states @ mesh.current.T + power @ mesh.current_power.T
    tops = [int(np.argmax(np.abs(currents[:, k]))) for k in asked]
    return tuple(
        (float(currents[at, k]), float(times[at])) for at, k in zip(tops, asked, strict=True)
    )
