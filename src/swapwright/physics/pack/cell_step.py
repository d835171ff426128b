"""One cell through one time step: a rest voltage, an ohmic resistance and two RC pairs.

The current is held constant over the step and the RC pairs are advanced by their exact exponential
(forward Euler misses the fast pair by some 7 %). Power is met on the step's mean voltage, so the
energy at the terminals is exactly power times time. Thevenin model: Plett, Battery Management
Systems vol. 1 (2015), ch. 2 (from memory).

Signs: discharge current and power are positive.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from swapwright.physics.compiled import inlined, kernel

FloatArray = NDArray[np.float64]

_BEND_ROUNDS = 20
_CURRENT_CLOSE = 1e-12


class Cells(NamedTuple):
    """The cell's tables, shared by every pack made of that cell.

    ``ocv`` V over state of charge 0..1 in equal steps; ``resistance`` [temperature, soc, 3] ohm for
    the ohmic part and the two RC pairs; ``limits`` [temperature, 4] A:
    continuous and peak discharge, continuous and peak charge; temperatures in equal steps from
    ``first_temperature`` K by ``temperature_step`` K; ``c1``, ``c2`` F.
    """

    ocv: FloatArray
    resistance: FloatArray
    limits: FloatArray
    first_temperature: float
    temperature_step: float
    c1: float
    c2: float
    entropic: float


class Pack(NamedTuple):
    """How the cells are joined.

    ``series``, ``parallel`` counts; ``capacity`` C per cell (with its health) and its inverse;
    ``joint_resistance`` ohm seen per cell; ``min_voltage``, ``max_voltage`` V per cell (the
    tightest of cell and inverter); ``current_limit`` A per cell from the dc side;
    ``overload_rate`` 1/s of the filter that lets the 10 s current last about 10 s; ``warming`` K/J
    and ``conductance`` W/K per cell; ``floor`` the state of charge that counts as empty.
    """

    series: float
    parallel: float
    capacity: float
    per_capacity: float
    joint_resistance: float
    min_voltage: float
    max_voltage: float
    current_limit: float
    overload_rate: float
    warming: float
    conductance: float
    floor: float


class RestLine(NamedTuple):
    """The straight piece of the rest-voltage curve a cell is on.

    Rest voltage is ``level - fall * charge`` V, for charges drawn between ``start`` and ``end`` C.
    """

    level: float
    fall: float
    start: float
    end: float


class Look(NamedTuple):
    """A cell's tables read at one state of charge and temperature, for steps of one length.

    ``dt`` s and its inverse; the piece of the rest-voltage curve; resistances ohm (``r0`` with the
    joints), decays and mean shares of the RC pairs over a step, ``ohms``/``end_ohms`` the
    resistance of the step's mean and end voltage, and the currents allowed: continuous and peak,
    discharge and charge, A.
    """

    dt: float
    per_dt: float
    line: RestLine
    r0: float
    r1: float
    r2: float
    decay1: float
    decay2: float
    mean1: float
    mean2: float
    ohms: float
    end_ohms: float
    discharge: float
    discharge_peak: float
    charge: float
    charge_peak: float


class OpenCell(NamedTuple):
    """A cell at the start of a step, before its current is known.

    Mean terminal voltage over the step is ``volts - ohms * current`` as long as the rest voltage
    stays on ``line``; ``most`` and ``least`` A are the largest discharge and (negative) charge
    current allowed, ``most_limit`` the code of what sets the former.
    """

    line: RestLine
    volts: float
    ohms: float
    most: float
    least: float
    most_limit: float


class CellStep(NamedTuple):
    """A cell after a step: RC voltages V, terminal energy out J, losses and stored energy J."""

    v1: float
    v2: float
    energy: float
    ohmic: float
    polarisation: float
    relaxation: float
    heat: float


@inlined
def rest_line(cells: Cells, pack: Pack, charge: float) -> RestLine:
    """Return the piece of the rest-voltage curve at ``charge`` C drawn; its ends go on straight."""
    pieces = cells.ocv.shape[0] - 1
    i = max(min(int((1.0 - charge * pack.per_capacity) * pieces), pieces - 1), 0)
    rise = cells.ocv[i + 1] - cells.ocv[i]
    width = pack.capacity / pieces
    return RestLine(
        level=cells.ocv[i] + (pieces - i) * rise,
        fall=rise / width,
        start=(pieces - i - 1) * width,
        end=(pieces - i) * width,
    )


@kernel
def look_up(cells: Cells, pack: Pack, charge: float, temperature: float, dt: float) -> Look:
    """Read a cell's tables at ``charge`` C drawn and ``temperature`` K for steps of ``dt`` s.

    Resistances drift by a few parts in ten thousand over ten steps, so a run reads them every few
    steps; the rest voltage is exact at each.
    """
    columns = cells.resistance.shape[1] - 1
    place = min(max(1.0 - charge * pack.per_capacity, 0.0), 1.0) * columns
    j = max(min(int(place), columns - 1), 0)
    ws = place - j
    rows = cells.resistance.shape[0] - 1
    place = (temperature - cells.first_temperature) / cells.temperature_step
    place = min(max(place, 0.0), 1.0 * rows)
    k = max(min(int(place), rows - 1), 0)
    wt = place - k
    w00 = (1.0 - wt) * (1.0 - ws)
    w01 = (1.0 - wt) * ws
    w10 = wt * (1.0 - ws)
    w11 = wt * ws
    near = cells.resistance[k]
    far = cells.resistance[k + 1]
    r0 = w00 * near[j, 0] + w01 * near[j + 1, 0] + w10 * far[j, 0] + w11 * far[j + 1, 0]
    r1 = w00 * near[j, 1] + w01 * near[j + 1, 1] + w10 * far[j, 1] + w11 * far[j + 1, 1]
    r2 = w00 * near[j, 2] + w01 * near[j + 1, 2] + w10 * far[j, 2] + w11 * far[j + 1, 2]
    r0 += pack.joint_resistance
    decay1 = math.exp(-dt / (r1 * cells.c1))
    decay2 = math.exp(-dt / (r2 * cells.c2))
    mean1 = (1.0 - decay1) * r1 * cells.c1 / dt
    mean2 = (1.0 - decay2) * r2 * cells.c2 / dt
    cold = cells.limits[k]
    warm = cells.limits[k + 1]
    return Look(
        dt=dt,
        per_dt=1.0 / dt,
        line=rest_line(cells, pack, charge),
        r0=r0,
        r1=r1,
        r2=r2,
        decay1=decay1,
        decay2=decay2,
        mean1=mean1,
        mean2=mean2,
        ohms=r0 + r1 * (1.0 - mean1) + r2 * (1.0 - mean2),
        end_ohms=r0 + r1 * (1.0 - decay1) + r2 * (1.0 - decay2),
        discharge=cold[0] + wt * (warm[0] - cold[0]),
        discharge_peak=cold[1] + wt * (warm[1] - cold[1]),
        charge=cold[2] + wt * (warm[2] - cold[2]),
        charge_peak=cold[3] + wt * (warm[3] - cold[3]),
    )


@inlined
def open_cell(
    cells: Cells,
    pack: Pack,
    look: Look,
    charge: float,
    v1: float,
    v2: float,
    overload: float,
    overload_charge: float,
    temperature: float,
    max_soc: float,
    min_temperature: float,
) -> OpenCell:
    """Return what a cell in its state can do over the next step.

    ``charge`` C drawn since full; ``v1``, ``v2`` V; ``overload``, ``overload_charge`` A^2;
    ``temperature`` K; no charging above ``max_soc`` or below ``min_temperature`` K.
    """
    line = look.line
    if charge < line.start or charge > line.end:
        line = rest_line(cells, pack, charge)
    rest = line.level - line.fall * charge
    drift = line.fall * look.dt
    volts = rest - v1 * look.mean1 - v2 * look.mean2
    ohms = look.ohms + 0.5 * drift

    most = _allowed(look.discharge, look.discharge_peak, overload)
    most_limit = 6.0
    if pack.current_limit < most:
        most = pack.current_limit
        most_limit = 5.0
    end_volts = rest - v1 * look.decay1 - v2 * look.decay2
    end_siemens = 1.0 / (look.end_ohms + drift)
    to_floor = max((end_volts - pack.min_voltage) * end_siemens, 0.0)
    if to_floor < most:
        most = to_floor
        most_limit = 7.0
    if most * ohms > 0.5 * volts:
        most = max(0.5 * volts / ohms, 0.0)
        most_limit = 7.0

    least = min(_allowed(look.charge, look.charge_peak, overload_charge), pack.current_limit)
    least = min(least, max((pack.max_voltage - end_volts) * end_siemens, 0.0))
    if 1.0 - charge * pack.per_capacity >= max_soc or temperature < min_temperature:
        least = 0.0
    return OpenCell(line, volts, ohms, most, -least, most_limit)


@inlined
def _allowed(continuous: float, peak: float, overload: float) -> float:
    """Return the current allowed now: the peak, fading to continuous as the filter fills."""
    square = continuous * continuous
    if overload < 0.9 * square:
        return peak
    if overload >= square:
        return continuous
    return continuous + (peak - continuous) * (square - overload) / (0.1 * square)


@inlined
def current_for_power(volts: float, ohms: float, power: float) -> float:
    """Return the current at which a source of ``volts`` behind ``ohms`` delivers ``power``.

    V, ohm, W per cell (power into the cell is negative); the smaller root of the quadratic, in the
    form that stays exact near zero power. Beyond the matched load it returns the matched current.
    """
    root = math.sqrt(max(volts * volts - 4.0 * ohms * power, 0.0))
    return 2.0 * power / (volts + root)


@kernel
def lift(cells: Cells, pack: Pack, line: RestLine, charge: float, drawn: float) -> float:
    """Return how far V the mean rest voltage of a step lies above the straight line it began on.

    ``charge`` C at its start and ``drawn`` C over it, either way. Each bend passed adds its change
    of slope times half the square of the charge past it, over the charge drawn.
    """
    if drawn == 0.0:
        return 0.0
    pieces = cells.ocv.shape[0] - 1
    width = pack.capacity / pieces
    end = charge + drawn
    way = -1 if drawn > 0.0 else 1
    i = pieces - int(line.end / width + 0.5) + way
    bend = line.end if drawn > 0.0 else line.start
    fall = line.fall
    total = 0.0
    while 0 <= i < pieces and (end - bend) * way < 0.0:
        next_fall = (cells.ocv[i + 1] - cells.ocv[i]) / width
        total += (fall - next_fall) * (end - bend) * (end - bend)
        fall = next_fall
        bend -= way * width
        i += way
    return 0.5 * total / drawn


@inlined
def has_bends(line: RestLine, charge: float, drawn: float) -> bool:
    """Return whether drawing so many C from a charge C takes a cell off a straight line."""
    return not line.start <= charge + drawn <= line.end


@kernel
def cell_power(
    cells: Cells, pack: Pack, opened: OpenCell, charge: float, current: float, dt: float
) -> float:
    """Return the mean power W of a cell at a current A held over a step of dt s, bends and all."""
    volts = opened.volts + lift(cells, pack, opened.line, charge, current * dt)
    return current * (volts - opened.ohms * current)


@kernel
def over_bends(
    cells: Cells,
    pack: Pack,
    opened: OpenCell,
    charge: float,
    current: float,
    power: float,
    dt: float,
) -> tuple[float, float]:
    """Return the voltage V (as `OpenCell.volts`) and current A of a step off its straight line.

    ``current`` A is a first guess at what delivers ``power`` W per cell within the limits; the
    voltage returned is exact for the current returned, which close to the matched load may still
    miss the power.
    """
    volts = opened.volts + lift(cells, pack, opened.line, charge, current * dt)
    for _ in range(_BEND_ROUNDS):
        before = current
        current = current_for_power(volts, opened.ohms, power)
        current = min(max(current, opened.least), opened.most)
        volts = opened.volts + lift(cells, pack, opened.line, charge, current * dt)
        if abs(current - before) <= _CURRENT_CLOSE * abs(before):
            break
    return volts, current


@inlined
def close_cell(
    cells: Cells,
    look: Look,
    opened: OpenCell,
    volts: float,
    v1: float,
    v2: float,
    current: float,
    temperature: float,
) -> CellStep:
    """Advance a cell by one step at a constant current and return where its energy went.

    ``volts`` V the mean of the step with no current, `OpenCell.volts` or that of `over_bends`;
    ``v1``/``v2`` V, ``current`` A, ``temperature`` K (for the reversible heat). With v settling to
    R I by the decay e, the heat in the resistor of an RC pair is the integral of v^2/R:
    R I^2 dt + 2 I (v - R I) tau (1 - e) + (v - R I)^2 C (1 - e^2) / 2. Reversible heat by
    bernardi-1985-heat, from memory.
    """
    dt = look.dt
    away1 = v1 - look.r1 * current
    away2 = v2 - look.r2 * current
    next1 = look.r1 * current + away1 * look.decay1
    next2 = look.r2 * current + away2 * look.decay2
    square = current * current * dt
    polarisation = (
        (look.r1 + look.r2) * square
        + 2.0 * current * dt * (away1 * look.mean1 + away2 * look.mean2)
        + 0.5 * cells.c1 * away1 * away1 * (1.0 - look.decay1 * look.decay1)
        + 0.5 * cells.c2 * away2 * away2 * (1.0 - look.decay2 * look.decay2)
    )
    relaxation = 0.5 * cells.c1 * (next1 * next1 - v1 * v1) + 0.5 * cells.c2 * (
        next2 * next2 - v2 * v2
    )
    ohmic = look.r0 * square
    energy = current * (volts - opened.ohms * current) * dt
    heat = ohmic + polarisation - current * temperature * cells.entropic * dt
    return CellStep(next1, next2, energy, ohmic, polarisation, relaxation, heat)
