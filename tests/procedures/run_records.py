"""What is recorded while somebody follows a procedure, for the tests of a run."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta

from swapwright.procedures.document import procedure_document
from swapwright.procedures.following import after, begun_run, run_of
from swapwright.procedures.run import Run, place_of
from swapwright.procedures.signature import signed_content
from swapwright.procedures.step import Procedure, Step
from swapwright.records.record import Json, Record

START = datetime(2026, 11, 27, 8, 0, tzinfo=UTC)
RUN, VEHICLE = "r-1", "v-1"
ANNE, BEN = "p-anne", "p-ben"
METER = {"meter": "i-meter", "leads": "i-leads", "mode": "fixed range"}
PROVED, NOTHING = "400 V", "0.1 V"


@dataclass
class Notes:
    """Records as a store would keep them, by a clock that goes on between them."""

    procedure: Procedure
    records: list[Record] = field(default_factory=list)
    at: datetime = START
    ticks: float = 1000.0
    worker: str = ANNE
    standing: Run | None = None

    def on(self, seconds: float) -> None:
        """Let time go by."""
        self.at += timedelta(seconds=seconds)
        self.ticks += seconds

    def clock(self) -> dict[str, Json]:
        """Return the server's clock as a record keeps it."""
        return {"server": {"wall": self.at.isoformat(), "boot": "one", "ticks": self.ticks}}

    def put(self, kind: str, *, by: str = "", run: str = RUN, **body: Json) -> Record:
        """Keep a record, a second after the one before."""
        self.on(1.0)
        number = len(self.records) + 1
        about = {"vehicle": VEHICLE, **({"run": run} if run else {})}
        who = by or self.worker
        kept = Record(
            number, self.at, kind, who, about, body, f"key-{number}", f"{number:064x}", ""
        )
        self.records.append(kept)
        known = self.standing
        self.standing = begun_run(kept) if known is None else after(known, kept)
        return kept

    def begin(self, *people: str, run: str = RUN) -> None:
        """Begin a run of the procedure."""
        everybody: list[Json] = list(people or (ANNE, BEN))
        document = procedure_document(self.procedure)
        self.put("run.begun", run=run, procedure=document, people=everybody, items=[], worker=ANNE)

    def run(self) -> Run:
        """Return the run as it stands."""
        assert self.standing is not None
        return self.standing

    def read(self, step: Step, text: str, **told: Json) -> Record:
        """Take a reading, with the meter that was proved unless told otherwise."""
        given: dict[str, Json] = {"given": 400.0} if step.act == "prove" else {}
        body: dict[str, Json] = {"clock": self.clock(), **METER, **given, **told}
        assert step.reading is not None
        point = " to ".join(step.reading.points)
        return self.put("reading.entered", step=step.id, point=point, text=text, **body)

    def sign(self, step: Step, by: str = "") -> Record:
        """Sign a step as the run stands."""
        signed = signed_content(self.run(), step)
        return self.put("signature.given", by=by, step=step.id, meaning=step.title, signed=signed)

    def do(self, step: Step) -> None:
        """Do a step as it should be done."""
        if step.photo:
            self.put("photo.added", photo="f" * 64, what="the step", step=step.id)
        if step.act == "wait" and step.wait is not None:
            self.put("wait.begun", step=step.id, clock=self.clock())
            self.on(step.wait)
            self.put("wait.over", step=step.id, clock=self.clock())
        elif step.act == "lock":
            self.put("lock.hung", step=step.id, place=place_of(step), lock=f"i-{step.id}")
        elif step.reading is not None:
            if step.reading.first:
                self.on(step.reading.after)
            self.read(step, reading_of(step))
        elif step.act != "sign":
            self.put("step.done", step=step.id)
        if step.act == "sign" or step.people > 1:
            for person in (self.worker, BEN if self.worker == ANNE else ANNE)[: step.people]:
                self.sign(step, person)

    def follow(self, until: str = "", but: Callable[[Step], bool] | None = None) -> None:
        """Do what is due, up to and with a step, or to the end; leave out what ``but`` picks."""
        for step in self.procedure.steps:
            if (but is None or not but(step)) and not self.run().is_done(step):
                self.do(step)
            if step.id == until:
                return


def reading_of(step: Step) -> str:
    """Return a reading that fits a step."""
    if step.act == "prove":
        return PROVED
    assert step.reading is not None
    low, high = step.reading.expected.low, step.reading.expected.high
    return NOTHING if low <= 0.1 <= high else f"{(low + min(high, 10.0 * low)) / 2.0} V"


def renumbered(records: Iterable[Record]) -> tuple[Record, ...]:
    """Return records numbered in the order they come in."""
    from dataclasses import replace

    return tuple(replace(each, number=at) for at, each in enumerate(records, start=1))


def folded(records: Sequence[Record]) -> Run:
    """Return the run records leave."""
    found = run_of(records, RUN)
    assert found is not None
    return found
