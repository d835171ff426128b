"""A charge on the car's own cells: time, energy, temperature, and a short estimate beside it."""

from __future__ import annotations

from dataclasses import dataclass

from swapwright.assess.book import FigureBook
from swapwright.assess.charge_runs import ChargeRun, Charging, charged
from swapwright.assess.days import AMBIENT, COLD, MILD, WORDS
from swapwright.assess.estimate_charge import estimate_charge
from swapwright.assess.kernel_inputs import NO_LIMIT
from swapwright.assess.simulated import simulated_figure
from swapwright.assess.stages.cell_point import RESISTANCES, derating_at
from swapwright.assess.stages.charge_supply import efficiency_of, within_window
from swapwright.base.curve import Axis, Curve, Mark, Series
from swapwright.base.errors import Missing
from swapwright.base.figure import LookedUp, Value
from swapwright.physics.drive.limit import lesser_current
from swapwright.physics.pack.cell import derated_current
from swapwright.physics.pack.charge_time import current_at_rate
from swapwright.physics.pack.supply import share_stored, window_filled
from swapwright.physics.pack.window import soc_at_rest_voltage
from swapwright.simulate.charge import CHARGE_COLUMNS, CHARGE_ENDS, CHARGE_LIMITS
from swapwright.standards.supply import TAPER_RATE

EQUATIONS = (
    "V_cell = OCV(z) + R0 I + V1 + V2; dVk/dt = I/Ck - Vk/(Rk Ck), by the exact exponential",
    "dz/dt = I / Q; I the most of what power, charger, cells and voltage each allow in a step",
    "m c dT/dt = I^2 R0 + V1^2/R1 + V2^2/R2 + I T dOCV/dT - K (T - T_air)",
    "P_supply = (P_pack + P_loads) / eta",
)
SOURCES = ("plett-2015-ch2", "definition-machine-efficiency")
RUN = "swapwright-charge-run"
WARMED = (
    "the pack is warmed first, which the cooling figures time; "
    "a charge of cells that are kept warm has no model"
)
FULL = "charging.full_soc"
HEAT_PATH = "pack.heat_path"
MOST_POINTS = 120
_OWN_LOADS = "auxiliaries.charging"


@dataclass(frozen=True)
class ChargeCase:
    """One charge: its name in figures, its words, the day, and where its limits stand.

    ``path`` is the way the cells' heat takes; ``other_end`` what lies there, where it is not the
    day's air.
    """

    name: str
    words: str
    day: str
    power: str
    current: str
    volts: str
    target: str
    path: str = HEAT_PATH
    other_end: str = ""

    @property
    def around(self) -> str:
        """Return what lies at the end of the way of the cells' heat."""
        return self.other_end or AMBIENT[self.day]


MILD_CASE = ChargeCase(
    "", "", MILD, "charging.battery_power", "charging.output_current", "charging.end_voltage",
    "charging.target",
)  # fmt: skip
COLD_CASE = ChargeCase(
    COLD, ", cold day", COLD, "charging.battery_power", "charging.output_current",
    "charging.end_voltage", "charging.target",
)  # fmt: skip


def charge_times(book: FigureBook) -> None:
    """Write how full a charge gets, and time and energy of it on a mild and a cold day."""
    if book.has("charging.charger.max_current"):
        count = int(book.get("charging.chargers") or 1)
        rows = [(f"charger {n + 1}", "charging.charger.max_current", 1.0) for n in range(count)]
        label = "most the charger gives"
        book.total("charging.output_current", label, "A", rows, "current")
    full_charge(book)
    with book.attempt("charging.target"):
        ends = {"as full as it gets": book.value(FULL), "charging.to": book.value("charging.to")}
        first = min(ends, key=lambda words: ends[words].si)
        cell = LookedUp("where a charge ends first", first, "state of charge", RUN)
        book.look_up(
            "charging.target", "state of charge a charge ends at", ends[first].si, "1", cell,
            "fraction", full=ends["as full as it gets"], to=ends["charging.to"],
        )  # fmt: skip
    book.make(window_filled, "charging.window_filled", full=FULL, top="pack.window_top")
    _cold_limit(book)
    for case in (MILD_CASE, COLD_CASE):
        with book.attempt(*made_by(case)):
            within_window(book)
            if case.day == COLD and book.car.texts.get("pack.heating", "none") != "none":
                raise Missing(reason=WARMED)
            run = run_charge(book, case, efficiency_of(book), loads_of(book))
            keep_charge(book, case, run)
            if case.day == MILD:
                book.curves["charging.charge"] = charge_curve(
                    run, "charging.charge", "a charge on the supply described"
                )


def made_by(case: ChargeCase) -> tuple[str, ...]:
    """Return the figures a charge makes."""
    names = ("time", "stored", "drawn", "end_soc", "held_share", "hottest_cell", "overall")
    return tuple(f"charging.{name}{case.name}" for name in names)


def full_charge(book: FigureBook) -> None:
    """Write the state of charge at which a charge at its end voltage has died away."""
    top = "pack.usable.to"
    names = tuple(f"charging.cell_{part}" for part in RESISTANCES)
    with book.attempt(*names, "charging.cell_resistance", "charging.taper", FULL):
        air, soc = book.value("conditions.temperature"), book.value(top)
        for part, name in zip(RESISTANCES, names, strict=True):
            book.look_up(
                name,
                f"cell {part}, mild day, at the top of the usable window",
                book.car.map(f"pack.cell.{part}").at(air.si, soc.si),
                "ohm",
                LookedUp(part, f"{air.si:.0f} K", f"{soc.si:.0%}", "part-data-sheet"),
                "resistance",
                temperature=air,
                soc=soc,
            )
        rows = [
            *((part, name, 1.0) for part, name in zip(RESISTANCES, names, strict=True)),
            ("joints, its share", "pack.joints_per_cell", 1.0),
        ]
        label = "resistance a cell has to a current of hours, nearly full"
        book.total("charging.cell_resistance", label, "ohm", rows, "resistance")
        book.make(
            current_at_rate,
            "charging.taper",
            label="current a charge is ended at",
            capacity="pack.capacity",
            rate=TAPER_RATE,
        )
        _full(book)


def _full(book: FigureBook) -> None:
    end, series = book.value("charging.end_voltage"), book.value("pack.series_cells")
    taper, ohms = book.value("charging.taper"), book.value("charging.cell_resistance")
    lifted = taper.si / book.number("pack.parallel_cells") * ohms.si
    cell = end.si / series.si - lifted
    book.look_up(
        FULL,
        "state of charge at which a charge has died away",
        soc_at_rest_voltage(ocv=book.car.line("pack.cell.ocv"), voltage=cell),
        "1",
        LookedUp(
            "rest voltage",
            f"{cell:.4g} V a cell: the end voltage less what the last current lifts it by",
            "state of charge",
            "part-data-sheet",
        ),
        "fraction",
        end_voltage=end,
        series=series,
        taper=taper,
        resistance=ohms,
        parallel=book.value("pack.parallel_cells"),
    )


def _cold_limit(book: FigureBook) -> None:
    """Write the charging current cold cells take, and what the charger gives them."""
    derating_at(
        book,
        "charging.cold_share",
        "share of the charge current the cells take on a cold day",
        "charge_derate",
        AMBIENT[COLD],
    )
    book.make(
        derated_current,
        "charging.cold_current_allowed",
        label="charging current the cells take on a cold day",
        rated_current="pack.charge_continuous",
        derate="charging.cold_share",
    )
    monitored = book.car.flags.get("charging.limited_by_pack", False)
    book.make(
        lesser_current,
        "charging.cold_current",
        label="charging current on a cold day",
        first="charging.current",
        second="charging.cold_current_allowed" if monitored else "charging.current",
    )


def loads_of(book: FigureBook) -> float:
    """Return the power W of pumps and controls, none where the efficiency has them in it."""
    return book.number(_OWN_LOADS) if book.has("charging.charger.efficiency") else 0.0


def run_charge(
    book: FigureBook, case: ChargeCase, efficiency: str | Value, loads: float
) -> ChargeRun:
    """Return a charge of a case; raise Missing where an input lacks or the cells refuse."""
    current = book.get(case.current)
    eta = efficiency.si if isinstance(efficiency, Value) else book.number(efficiency)
    return charged(
        book,
        Charging(
            power=book.number(case.power),
            loads=loads,
            efficiency=eta,
            current=NO_LIMIT if current is None else current,
            volts=book.number(case.volts),
            start=book.number("charging.from"),
            target=book.number(case.target),
            ambient=book.number(AMBIENT[case.day]),
            taper=book.number("charging.taper"),
            conductance=book.number(case.path),
            around=book.number(case.around),
        ),
    )


def keep_charge(book: FigureBook, case: ChargeCase, run: ChargeRun) -> None:
    """Keep what a charge came to, each simulated figure with its short estimate."""
    estimate_charge(book, case, run.given.loads, run.given.efficiency)
    settings = {
        "day": WORDS[case.day],
        "begins at": f"{run.given.start:.0%}",
        "ends at": f"{run.end:.1%}: {CHARGE_ENDS[int(run.ledger.end)]}",
        "step": f"{run.step:.3g} s",
        "steps": str(len(run.trace)),
    }
    words, name = case.words, case.name
    for figure_id, label, value, estimate in (
        ("time", "time of a charge", (run.ledger.time, "s", "time"), "time"),
        ("stored", "energy a charge stores", (run.stored, "J", "energy"), "stored"),
        ("drawn", "energy a charge draws", (run.drawn, "J", "energy"), "drawn"),
    ):
        simulated_figure(
            book,
            f"charging.{figure_id}{name}",
            f"{label}{words}",
            value,
            run,
            f"estimate.charging{name}.{estimate}",
            settings,
            EQUATIONS,
            SOURCES,
        )
    for figure_id, label, si, unit, kind in (
        ("end_soc", "state of charge a charge reached", run.end, "1", "fraction"),
        (
            "held_share",
            "share of a charge's time at the end voltage, current dying away",
            run.ledger.held / run.ledger.time,
            "1",
            "fraction",
        ),
        (
            "hottest_cell",
            "hottest the cells get in a charge",
            run.ledger.hottest,
            "K",
            "temperature",
        ),
    ):
        cell = LookedUp("simulated run", f"a charge{words}", label, RUN)
        book.look_up(f"charging.{figure_id}{name}", f"{label}{words}", si, unit, cell, kind)
    book.make(
        share_stored,
        f"charging.overall{name}",
        label=f"share of the energy from the supply that is stored{words}",
        stored=f"charging.stored{name}",
        drawn=f"charging.drawn{name}",
    )


def charge_curve(run: ChargeRun, curve_id: str, label: str) -> Curve:
    """Return power, voltage, current, charge and temperature of a charge over its time."""
    every = max(len(run.trace) // MOST_POINTS, 1)
    rows = [*run.trace[:-1:every], run.trace[-1]]
    columns = {name: [float(row[i]) for row in rows] for i, name in enumerate(CHARGE_COLUMNS)}
    limits = tuple(CHARGE_LIMITS[int(code)] for code in columns["limit"])
    held = run.ledger.time - run.ledger.held
    return Curve(
        curve_id,
        label,
        Axis("time", "time", "s", tuple(columns["time"])),
        (
            Series("power into the battery", "power", "W", tuple(columns["power"]), limits),
            Series("voltage", "voltage", "V", tuple(columns["volts"])),
            Series("current", "current", "A", tuple(columns["current"])),
            Series("state of charge", "fraction", "1", tuple(columns["soc"])),
            Series("cell temperature", "temperature", "K", tuple(columns["temperature"])),
        ),
        (Mark("end voltage reached", x=held),) if run.ledger.held > 0.0 else (),
        (RUN,),
    )
