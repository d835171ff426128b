"""Records of a small shop, for tests of the store."""

from __future__ import annotations

from swapwright.records.record import Draft
from swapwright.records.store import Store

PICTURE = b"\xff\xd8 a picture of a lock on a disconnect"


def person(number: int) -> Draft:
    return Draft("person.added", "local", {"person": f"p-{number}"}, {"name": f"Person {number} Ω"})


def fill(store: Store, number: int = 30) -> None:
    """Add so many records of several kinds; some of them about one vehicle."""
    store.append(person(1), person(2))
    about = {"vehicle": "v-1"}
    store.append(Draft("vehicle.added", "p-1", about, {"name": "Coupe", "car": "ridgeway"}))
    photo = store.put_attachment(PICTURE, "image/jpeg")
    store.append(Draft("photo.added", "p-1", about, {"photo": photo, "what": "the lock"}))
    while store.head()[0] < number:
        at = store.head()[0] + 1
        if at % 3:
            store.append(person(at))
        else:
            run = {**about, "run": "r-1"}
            body = {"step": f"measure.{at}", "point": "plus to chassis", "text": f"{at % 7},3 V"}
            store.append(Draft("reading.entered", "p-2", run, body))
