"""What is done in a run, as a page or a device sends it, and the record that is made of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.shop_typed import LONGEST, LONGEST_WORDS, NEEDED
from swapwright.jobs.shop_vehicle import HAPPENINGS
from swapwright.procedures.protection import LEADS, METER
from swapwright.procedures.reading import AskAgain, read
from swapwright.procedures.run import place_of
from swapwright.procedures.step import Procedure, Step
from swapwright.records.record import Json, Record

ITEM = "item."
"""What the names of the fields begin with that say which equipment is used, kind by kind."""
READING = "reading.entered"
LONGEST_READING = 120


@dataclass(frozen=True)
class Act:
    """One thing that was done: its key, what, by whom, and what was typed, by the fields' names.

    ``device`` and ``sequence`` say which device counted it as which of its own; ``read_at`` is that
    device's time of day, ``clock`` the moments it is counted by (`procedures.waiting.gone`).
    ``told_by`` is whose word it is where somebody else sends it.
    """

    key: str
    name: str
    by: str
    given: Mapping[str, str]
    clock: Mapping[str, Json] = field(default_factory=lambda: MappingProxyType({}))
    device: str = ""
    sequence: int | None = None
    read_at: str = ""
    photo: bytes = field(default=b"", repr=False)
    told_by: str = ""

    @property
    def step(self) -> str:
        """The id of the step it is about, empty where it is about none."""
        return self.given.get("step", "")

    @property
    def items(self) -> Mapping[str, str]:
        """The equipment that was said to be used, by its kind; empty for none of a kind."""
        return {
            name.removeprefix(ITEM): value
            for name, value in self.given.items()
            if name.startswith(ITEM)
        }

    def with_items(self, taken: Mapping[str, str]) -> Act:
        """Return it with the equipment the run was on, where it says nothing of a kind itself."""
        named = {f"{ITEM}{kind}": name for kind, name in taken.items()}
        return replace(self, given={**named, **self.given})


@dataclass(frozen=True)
class Named:
    """What an act is called, the kind of its record, and the action that has to be allowed.

    ``action`` is empty where nobody is ever refused.
    """

    words: str
    kind: str
    action: str = ""


ACTS: Mapping[str, Named] = MappingProxyType(
    {
        "step.done": Named("step done", "step.done", "do a step"),
        "step.differs": Named("the car differs", "step.differs"),
        "wait.begun": Named("waiting begun", "wait.begun", "do a step"),
        "wait.over": Named("waiting over", "wait.over", "do a step"),
        READING: Named("reading", READING),
        "lock.hung": Named("lock hung", "lock.hung", "hang a lock"),
        "lock.lifted": Named("lock lifted", "lock.lifted", "lift own lock"),
        "photo.added": Named("photo", "photo.added", "do a step"),
        "signature.given": Named("signature", "signature.given", "sign"),
        "stop.cleared": Named("the source was found", "stop.cleared", "clear a stop"),
        "run.held": Named("held", "run.held", "hold a run"),
        "run.resumed": Named("resumed", "run.resumed", "hold a run"),
        "run.handed_over": Named("handed over", "run.handed_over", "hand a run over"),
        "run.stopped": Named("stopped", "run.stopped"),
        "run.ended": Named("run ended", "run.ended", "do a step"),
        **{name: Named(each.words, each.kind) for name, each in HAPPENINGS.items()},
    }
)
"""Everything that can be done in a run. What makes a danger known is open to everybody."""

LAPSES = tuple(HAPPENINGS)


def act_named(act: Act) -> Named:
    """Return what an act is; raise InputError for one there is not."""
    found = ACTS.get(act.name)
    if found is None:
        raise InputError(Problem("", "do", "there is no such act", act.name[:40]))
    return found


def step_of(procedure: Procedure, act: Act) -> Step:
    """Return the step an act is about; raise InputError where the procedure has none such."""
    found = procedure.step(act.step)
    if found is None:
        raise InputError(Problem("", "step", "this run has no such step", act.step[:80]))
    return found


def typed_reading(given: Mapping[str, str]) -> str:
    """Return a reading as it was typed, with the unit's button where it does not end in that.

    Where the text tells another unit both stand there, and it is asked which.
    """
    text, unit = given.get("text", "").strip(), given.get("unit", "")
    if not unit or text.endswith(unit):
        return text
    return f"{text} {unit}".strip()


def asked_again(procedure: Procedure, records: Sequence[Record], step: str) -> int | None:
    """Return the number of a first entry without its unit that is still to be typed again."""
    spec = None if (found := procedure.step(step)) is None else found.reading
    mine = [each for each in records if each.kind == READING and each.body["step"] == step]
    if spec is None or not mine:
        return None
    last = mine[-1]
    is_open = isinstance(read(str(last.body["text"]), spec.quantity, spec.unit), AskAgain)
    return last.number if is_open else None


def body_of(act: Act, procedure: Procedure, records: Sequence[Record]) -> dict[str, Json]:
    """Return the body of the record an act is kept as; raise InputError for what it lacks.

    ``records`` are those of the run. The body of what takes a PIN, and of a photo, is made where
    they are checked.
    """
    if act.name in HAPPENINGS:
        happening = HAPPENINGS[act.name]
        return {happening.key: happening.words, **told_of(act)}
    return {**_BODIES[act.name](act, procedure, records), **told_of(act)}


def told_of(act: Act) -> dict[str, Json]:
    """Return what a device and the server add of themselves: which device, when, by what clock."""
    told: dict[str, Json] = {}
    if act.device:
        told["device"] = act.device[:LONGEST]
    if act.sequence is not None:
        told["sequence"] = act.sequence
    if act.read_at:
        told["read_at"] = act.read_at[:LONGEST]
    if act.told_by:
        told["told_by"] = act.told_by
    if act.clock:
        told["clock"] = dict(act.clock)
    return told


def line_of(act: Act, name: str, otherwise: str = "", most: int = LONGEST) -> str:
    """Return a text of an act on one line; raise InputError where it lacks and has no other."""
    text = " ".join(act.given.get(name, "").split()) or otherwise
    if not text:
        raise InputError(Problem("", name, NEEDED))
    if len(text) > most:
        raise InputError(Problem("", name, "this is too long", text[:40], f"up to {most}"))
    return text


def _used(act: Act, step: Step, *but: str) -> dict[str, Json]:
    """Return which equipment a step was done with, by the kinds it needs."""
    used = [act.items[kind] for kind in step.needs if act.items.get(kind) and kind not in but]
    return {"items": list(used)} if used else {}


def _done(act: Act, procedure: Procedure, _: Sequence[Record]) -> dict[str, Json]:
    step = step_of(procedure, act)
    return {"step": step.id, **_used(act, step)}


def _differs(act: Act, procedure: Procedure, _: Sequence[Record]) -> dict[str, Json]:
    what = line_of(act, "what", "not said", LONGEST_WORDS)
    return {"step": step_of(procedure, act).id, "what": what}


def _wait(act: Act, procedure: Procedure, _: Sequence[Record]) -> dict[str, Json]:
    return {"step": step_of(procedure, act).id}


def _reading(act: Act, procedure: Procedure, records: Sequence[Record]) -> dict[str, Json]:
    step = step_of(procedure, act)
    text = typed_reading(act.given)
    if step.reading is None or len(text) > LONGEST_READING:
        raise InputError(Problem("", "text", "this is no reading", text[:40]))
    found = read(text, step.reading.quantity, step.reading.unit)
    if isinstance(found, AskAgain) and not found.is_kept:
        raise InputError(Problem("", "text", found.words, text[:40]))
    body: dict[str, Json] = {
        "step": step.id,
        "point": " to ".join(step.reading.points),
        "text": text,
        **_used(act, step, METER, LEADS),
    }
    for name in (METER, LEADS):
        if act.items.get(name):
            body[name] = act.items[name]
    if act.given.get("mode"):
        body["mode"] = act.given["mode"][:LONGEST]
    first = asked_again(procedure, records, step.id)
    return body if first is None else {**body, "corrected": first}


def _hung(act: Act, procedure: Procedure, _: Sequence[Record]) -> dict[str, Json]:
    step = step_of(procedure, act)
    return {"step": step.id, "place": place_of(step), "lock": line_of(act, "lock")}


def _held(act: Act, _: Procedure, __: Sequence[Record]) -> dict[str, Json]:
    return {"reason": line_of(act, "reason", "not said", LONGEST_WORDS)}


def _stopped(act: Act, procedure: Procedure, _: Sequence[Record]) -> dict[str, Json]:
    body: dict[str, Json] = {"reason": line_of(act, "reason", "stop was pressed", LONGEST_WORDS)}
    return {**body, "step": act.step} if procedure.step(act.step) is not None else body


def _ended(act: Act, _: Procedure, __: Sequence[Record]) -> dict[str, Json]:
    return {"outcome": line_of(act, "outcome", most=LONGEST_WORDS)}


Body = Callable[[Act, Procedure, Sequence[Record]], dict[str, Json]]

_BODIES: Mapping[str, Body] = MappingProxyType(
    {
        "step.done": _done,
        "step.differs": _differs,
        "wait.begun": _wait,
        "wait.over": _wait,
        READING: _reading,
        "lock.hung": _hung,
        "run.held": _held,
        "run.resumed": lambda act, procedure, records: {},
        "run.stopped": _stopped,
        "run.ended": _ended,
    }
)
