"""Beginning a run: the procedure is kept whole, as it was when somebody began to follow it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from swapwright.base.errors import InputError, Problem
from swapwright.jobs.clock import clock_mark
from swapwright.jobs.desk import Look
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_pin import check_pin
from swapwright.jobs.shop_run_fit import item_words, not_able
from swapwright.jobs.shop_run_kept import open_runs, open_stop
from swapwright.jobs.shop_typed import NEEDED, Typed
from swapwright.jobs.shop_vehicle import file_state, known_vehicle, printed_procedure
from swapwright.procedures.competence import standing
from swapwright.procedures.document import procedure_document
from swapwright.procedures.kinds import KINDS
from swapwright.procedures.step import Kind, Procedure
from swapwright.records.people import Person
from swapwright.records.reader import Reader
from swapwright.records.record import Draft, Json
from swapwright.records.store import Guard
from swapwright.records.vehicles import Vehicle

ENTER_FIRST = "enter the revision first"
OPEN_ALREADY = "a run is open on this vehicle already: end it, or go on with it"


@dataclass(frozen=True)
class Choice:
    """One thing to choose: its id, what it is called, and what is to know of it."""

    id: str
    name: str
    serial: str
    words: str


@dataclass(frozen=True)
class Beginning:
    """What can be begun on a vehicle, with whom and what; ``words`` says how its file stands.

    ``stop`` is what the run before it was stopped by and nobody cleared, empty where nothing.
    """

    vehicle: Vehicle
    procedure: Procedure
    words: str
    stop: str
    people: tuple[Choice, ...]
    choices: Mapping[str, tuple[Choice, ...]]


def beginning(shop: Shop, actor: Actor, vehicle: str, kind: str, look: Look | None) -> Beginning:
    """Return what the page that begins a run shows; raise `Refused` for no vehicle or kind."""
    found = known_vehicle(shop, vehicle)
    procedure = printed_procedure(shop, actor, vehicle, _kind(kind), look)
    people = tuple(_person(shop, each) for each in shop.people().values() if not each.has_left)
    words = file_state(found, look).words
    stopped = open_stop(shop, vehicle)
    stop = "" if stopped is None or stopped.run.stop is None else stopped.run.stop.words
    return Beginning(found, procedure, words, stop, people, choices_of(shop, procedure))


def choices_of(shop: Shop, procedure: Procedure) -> Mapping[str, tuple[Choice, ...]]:
    """Return the equipment a procedure needs, kind by kind, with what keeps each from this car."""
    kinds = dict.fromkeys(kind for step in procedure.steps for kind in step.needs)
    registers, on = shop.registers(), shop.today()
    stock = registers.items.values()
    return {
        kind: tuple(
            Choice(each.id, each.name, each.serial, item_words(registers, on, procedure, each))
            for each in stock
            if each.kind == kind
        )
        for kind in kinds
    }


def begin_run(
    shop: Shop,
    actor: Actor,
    vehicle: str,
    kind: str,
    look: Look | None,
    given: Mapping[str, str],
    people: Sequence[str],
    items: Sequence[str],
) -> str:
    """Begin a run of a procedure and return its id.

    Refused while the file is not the revision that is entered, and while another run is open on
    the vehicle. Without a file that can be read the generic procedure is begun.
    """
    shop.allow(actor, "begin a run")
    typed = Typed(given)
    found = known_vehicle(shop, vehicle)
    state = file_state(found, look)
    if state.can_be_entered and not state.is_entered:
        raise Refused(Problem("", "", f"{state.words}: {ENTER_FIRST}"))
    procedure = printed_procedure(shop, actor, vehicle, _kind(kind), look)
    worker = typed.choice("worker", tuple(people))
    _fit_people(shop, typed, people, worker)
    key = typed.key()
    note = typed.words("note", is_needed=False)
    typed.done()
    run = f"r-{key}"
    body: dict[str, Json] = {
        "procedure": procedure_document(procedure),
        "people": list(people),
        "items": [each for each in items if each in shop.items()],
        "worker": worker,
        "clock": {"server": clock_mark(shop.now())},
    }
    if note:
        body["note"] = note
    cleared = _cleared(shop, actor, vehicle, given)
    about = {"vehicle": vehicle, "run": run}
    by = worker if actor.is_local else actor.person
    shop.write(*cleared, Draft("run.begun", by, about, body, key), guard=_alone(vehicle))
    return run


def _cleared(shop: Shop, actor: Actor, vehicle: str, given: Mapping[str, str]) -> tuple[Draft, ...]:
    """Return the record that clears what the run before was stopped by, signed with a PIN.

    Ending a run takes no stop away: whoever is responsible says what it was.
    """
    stopped = open_stop(shop, vehicle)
    if stopped is None or stopped.run.stop is None:
        return ()
    typed = Typed(given)
    found = typed.words("found")
    person = typed.choice("clearer", tuple(shop.people()))
    typed.done()
    shop.allow(shop.actor(person, actor.address), "clear a stop")
    try:
        check_pin(shop, actor, person, given.get("clearer_pin", ""), "clear a stop")
    except Refused as error:
        raise Refused(*(replace(each, path="clearer_pin") for each in error.problems)) from None
    about = {"vehicle": vehicle, "run": stopped.id}
    body: dict[str, Json] = {"stop": stopped.run.stop.record.number, "found": found}
    return (Draft("stop.cleared", person, about, body),)


def _alone(vehicle: str) -> Guard:
    def guard(reader: Reader) -> None:
        if open_runs(reader, vehicle):
            raise Refused(Problem("", "", OPEN_ALREADY))

    return guard


def _fit_people(shop: Shop, typed: Typed, people: Sequence[str], worker: str) -> None:
    """Refuse a run of nobody, or by somebody who may do no more than be made aware."""
    if not people:
        typed.refuse("people", NEEDED)
    for each in people:
        found = shop.people().get(each)
        if found is None or found.has_left:
            typed.refuse("people", "somebody named is not in the shop")
    if worker in people and (why := not_able(shop.registers(), worker, "aware", shop.today())):
        typed.refuse("worker", why)


def _person(shop: Shop, person: Person) -> Choice:
    found = standing(person, shop.today())
    words = found.level or "no competence on record"
    return Choice(person.id, person.name, "", words if person.has_pin else f"{words}; no PIN yet")


def _kind(text: str) -> Kind:
    for kind in KINDS:
        if kind == text:
            return kind
    raise InputError(Problem("", "kind", "there is no such procedure", text[:40], ", ".join(KINDS)))
