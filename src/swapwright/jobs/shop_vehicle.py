"""The vehicles of the shop: entered from a car of the folder, their revision, what happened."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from swapwright.base.errors import InputError, Problem
from swapwright.build.revision import short
from swapwright.jobs.check import Checked
from swapwright.jobs.clock import clock_mark
from swapwright.jobs.desk import Look
from swapwright.jobs.ledger import store_key
from swapwright.jobs.photo import photo_of
from swapwright.jobs.procedure import procedure_of_car, procedure_without_file
from swapwright.jobs.shop import Actor, Refused, Shop
from swapwright.jobs.shop_history import HistoryLine, lines_about, moment_words, who
from swapwright.jobs.shop_typed import Typed
from swapwright.procedures.equipment_fit import Fit, fit
from swapwright.procedures.protection import GLOVES, LEADS, LEATHER, METER, PROVING
from swapwright.procedures.step import Kind, Procedure
from swapwright.procedures.subject import HIGHEST
from swapwright.records.canonical import canonical
from swapwright.records.checkpoint import checkpoint_now
from swapwright.records.equipment import Item
from swapwright.records.export import history_document
from swapwright.records.record import Draft, Json
from swapwright.records.vehicles import Vehicle
from swapwright.records.verify import verify
from swapwright.standards.version import DATA_VERSION

JUDGED = (GLOVES, METER, LEADS, PROVING)
"""Kinds of equipment that have to fit the car's voltage."""


@dataclass(frozen=True)
class Happening:
    """Something that ends absence of voltage at once: the kind of its record, and in words."""

    kind: str
    key: str
    words: str


HAPPENINGS: Mapping[str, Happening] = MappingProxyType(
    {
        "moved": Happening("vehicle.moved", "what", "wheels turned, or the car was moved"),
        "supplied": Happening("vehicle.supplied", "what", "12 V restored"),
        "plugged": Happening("vehicle.supplied", "what", "charger plugged in"),
        "remade": Happening("absence.lapsed", "cause", "a connector was remade"),
        "energised": Happening("vehicle.energised", "what", "energised"),
    }
)
"""What anybody may say of a vehicle at any time, by the name its button has."""


@dataclass(frozen=True)
class FileState:
    """How the car's file stands to what was entered; ``words`` says it, ``is_entered`` whether
    both are one revision."""

    words: str
    is_entered: bool
    can_be_entered: bool


@dataclass(frozen=True)
class FitLine:
    """One item of the shop and what keeps it from this car, or that nothing does."""

    item: Item
    found: tuple[Fit, ...]

    @property
    def verdict(self) -> str:
        """Return the worst of what was found."""
        order = ("stop", "fix", "unknown", "watch", "met")
        return min((each.verdict for each in self.found), key=order.index, default="unknown")


@dataclass(frozen=True)
class RunLine:
    """One run of a procedure: what it is, when it was begun by whom, and how it ended."""

    id: str
    kind: str
    begun: str
    ended: str


@dataclass(frozen=True)
class VehicleView:
    """Everything of one vehicle.

    ``highest`` is its maximum working voltage in V, None where it is not known; ``missing`` are
    kinds of equipment of which nothing in the shop fits it today.
    """

    vehicle: Vehicle
    revision: str
    file: FileState
    highest: float | None
    fits: tuple[FitLine, ...]
    missing: tuple[str, ...]
    runs: tuple[RunLine, ...]
    photos: tuple[tuple[str, str], ...]
    history: tuple[HistoryLine, ...]


def vehicle_view(shop: Shop, actor: Actor, vehicle: str, look: Look | None) -> VehicleView | None:
    """Return one vehicle, None where there is none of that id; ``look`` is its car's file."""
    shop.allow(actor, "read records")
    found = shop.vehicles().get(vehicle)
    if found is None:
        return None
    highest = _highest(_good(look))
    fits = tuple(_fits(shop, highest))
    fitting = {line.item.kind for line in fits if line.verdict in ("met", "watch")}
    return VehicleView(
        found,
        "" if found.revision is None else short(found.revision.revision),
        file_state(found, look),
        highest,
        fits,
        tuple(kind for kind in JUDGED if kind not in fitting),
        _runs(shop, vehicle),
        _photos(shop, vehicle),
        lines_about(shop, lambda reader: reader.records(vehicle=vehicle)),
    )


def file_state(vehicle: Vehicle, look: Look | None) -> FileState:
    """Return how a car's file stands to the revision that was entered for a vehicle."""
    checked = _good(look)
    entered = vehicle.revision
    if look is None:
        return FileState("the file of this car is not in the folder", False, False)
    if checked is None:
        return FileState("the file cannot be read as it is", False, False)
    if entered is None:
        return FileState("no revision is entered yet", False, True)
    if entered.revision == checked.assessment.revision:
        return FileState("the file is the revision that is entered", True, False)
    words = f"the file is at revision {short(checked.assessment.revision)}, which is not entered"
    return FileState(words, False, True)


def add_vehicle(shop: Shop, actor: Actor, given: Mapping[str, str], cars: Iterable[str]) -> str:
    """Enter a vehicle built from a car of the folder, and return its id."""
    shop.allow(actor, "add a vehicle")
    typed = Typed(given)
    name, car = typed.line("name", most=80), typed.choice("car", tuple(cars))
    identity = typed.line("identity", is_needed=False, most=80)
    for each in shop.vehicles().values():
        if each.name.casefold() == name.casefold():
            typed.refuse("name", "there is a vehicle of this name", "add what differs")
    typed.done()
    key = typed.key()
    vehicle = f"v-{key}"
    body = {"name": name, "car": car, "identity": identity}
    shop.write(Draft("vehicle.added", actor.person, {"vehicle": vehicle}, body, key))
    return vehicle


def enter_revision(
    shop: Shop, actor: Actor, vehicle: str, look: Look | None, given: Mapping[str, str]
) -> None:
    """Keep the file as it is as the vehicle's revision; a file that cannot be read is refused."""
    shop.allow(actor, "enter a revision")
    found = known_vehicle(shop, vehicle)
    checked = _good(look)
    if look is None or checked is None:
        problems = () if look is None else look.problems
        words = file_state(found, look).words
        raise InputError(*(problems or (Problem(found.car, "", words),)))
    if not file_state(found, look).can_be_entered:
        raise Refused(Problem("", "", "this revision is entered already"))
    body = {
        "revision": checked.assessment.revision,
        "mark": checked.opened.car.texts.get("car.mark", ""),
        "data_version": DATA_VERSION,
        "build": look.text,
    }
    key = Typed(given).key()
    shop.write(Draft("revision.entered", actor.person, {"vehicle": vehicle}, body, key))


def tell_happening(shop: Shop, actor: Actor, vehicle: str, given: Mapping[str, str]) -> None:
    """Put on record what ends absence of voltage.

    Nobody is ever refused here: what makes a danger known is open to everybody.
    """
    known_vehicle(shop, vehicle)
    typed = Typed(given)
    name = typed.choice("happening", tuple(HAPPENINGS))
    typed.done()
    found = HAPPENINGS[name]
    about = {"vehicle": vehicle}
    clock: Json = {"server": dict(clock_mark(shop.now()))}
    body: dict[str, Json] = {found.key: found.words, "clock": clock}
    shop.write(Draft(found.kind, actor.person, about, body, typed.key()))


def add_photo(
    shop: Shop, actor: Actor, vehicle: str, data: bytes, given: Mapping[str, str]
) -> None:
    """Keep a photo of a vehicle, made anew without where and with what it was taken."""
    shop.allow(actor, "do a step")
    known_vehicle(shop, vehicle)
    typed = Typed(given)
    what = typed.line("what")
    typed.done()
    name = shop.store.put_attachment(photo_of(data).content, "image/jpeg")
    body = {"photo": name, "what": what}
    shop.write(Draft("photo.added", actor.person, {"vehicle": vehicle}, body, typed.key()))


def photo_content(shop: Shop, actor: Actor, name: str) -> bytes | None:
    """Return a photo by its hash, None where there is none."""
    shop.allow(actor, "read records")
    found = shop.store.attachment(name)
    return None if found is None or found[0] != "image/jpeg" else found[1]


def printed_procedure(
    shop: Shop, actor: Actor, vehicle: str, kind: Kind, look: Look | None
) -> Procedure:
    """Return a procedure of a vehicle's car; a generic one where its file cannot be read."""
    shop.allow(actor, "read records")
    found = known_vehicle(shop, vehicle)
    checked = _good(look)
    if checked is None:
        return procedure_without_file(kind, found.name)
    return procedure_of_car(checked, kind)


def history_file(shop: Shop, actor: Actor, vehicle: str) -> str:
    """Return a vehicle's whole history as the text of a file that can be verified elsewhere.

    Raises `Refused` where the ledger itself has faults: it is not handed on as if it had none.
    """
    shop.allow(actor, "export a history")
    known_vehicle(shop, vehicle)
    found = verify(shop.store)
    if found.faults:
        words = "the ledger has faults and no history is given out: verify it"
        raise Refused(Problem("", "", words), *(Problem("", "", f.words) for f in found.faults[:5]))
    checkpoint = checkpoint_now(shop.store, store_key(shop.place, shop.key), shop.now())
    return canonical(history_document(shop.store, vehicle, checkpoint))


def known_vehicle(shop: Shop, vehicle: str) -> Vehicle:
    """Return a vehicle; raise `Refused` where there is none of that id."""
    found = shop.vehicles().get(vehicle)
    if found is None:
        raise Refused(Problem("", "", "there is no vehicle of this id"))
    return found


def _good(look: Look | None) -> Checked | None:
    """Return the car of a file as it stands, None where it cannot be read as it stands."""
    return None if look is None or look.problems else look.checked


def _highest(checked: Checked | None) -> float | None:
    if checked is None:
        return None
    figure = checked.assessment.figures.get(HIGHEST)
    return None if figure is None else figure.value.si


def _fits(shop: Shop, highest: float | None) -> Iterable[FitLine]:
    """Yield each glove, meter, lead and proving unit with what is judged of it for this car.

    Gloves are judged with leather protectors where the shop has a pair that may be used.
    """
    stock = shop.items().values()
    leather = [each for each in stock if each.kind == LEATHER and not each.withdrawn]
    for item in sorted(stock, key=lambda each: (each.kind, each.name)):
        if item.kind in JUDGED:
            beside = leather[:1] if item.kind == GLOVES else []
            found = fit((item, *beside), highest, shop.today())
            own = (each for each in found if each.item == item.id or each.kind == LEATHER)
            yield FitLine(item, tuple(each for each in own if each.item in ("", item.id)))


def _runs(shop: Shop, vehicle: str) -> tuple[RunLine, ...]:
    """Return the runs of a vehicle, the latest first."""
    records = shop.store.records(kinds=("run.begun", "run.ended"), vehicle=vehicle)
    ended = {each.about["run"]: each for each in records if each.kind == "run.ended"}
    lines = []
    for each in records:
        if each.kind == "run.begun":
            run, procedure = each.about["run"], each.body["procedure"]
            kind = procedure.get("kind") if isinstance(procedure, Mapping) else ""
            end = ended.get(run)
            lines.append(
                RunLine(
                    run,
                    str(kind or "procedure"),
                    f"{moment_words(each.at)} by {who(shop, each.by)}",
                    "" if end is None else f"{end.body['outcome']}, {moment_words(end.at)}",
                )
            )
    return tuple(reversed(lines))


def _photos(shop: Shop, vehicle: str) -> tuple[tuple[str, str], ...]:
    records = shop.store.records(kinds=("photo.added",), vehicle=vehicle)
    return tuple((str(each.body["photo"]), str(each.body["what"])) for each in reversed(records))
