"""A run in a stocked shop, followed by what a page sends."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PIL import Image
from stocked import PIN, Stocked

from swapwright.jobs.shop import LOCAL_ACTOR, Actor, Shop
from swapwright.jobs.shop_run import Result, run_acts
from swapwright.jobs.shop_run_act import Act
from swapwright.jobs.shop_run_view import RunView, run_view
from swapwright.procedures.protection import LOCK
from swapwright.procedures.step import Step
from swapwright.records.record import new_key

_picture = io.BytesIO()
Image.new("RGB", (32, 24), "grey").save(_picture, "JPEG")
PICTURE = _picture.getvalue()


@dataclass
class Page:
    """What one person sends from the page of a run, by a clock a test sets on."""

    shop: Shop
    run: str
    stock: Stocked
    on: Callable[[float], None]
    clock: Callable[[], Mapping[str, object]]
    who: str = "anne"
    actor: Actor = LOCAL_ACTOR
    used: int = 0
    items: Mapping[str, str] | None = None

    def view(self) -> RunView:
        """Return the run as its page shows it."""
        found = run_view(self.shop, self.actor, self.run, self.clock())
        assert found is not None
        return found

    def send(self, name: str, photo: bytes = b"", key: str = "", **given: str) -> Result:
        """Send one act and return what became of it."""
        person = self.stock.people[self.who] if self.actor.is_local else self.actor.person
        taken = self.items or self.stock.items
        items = {f"item.{kind}": item for kind, item in taken.items() if kind != LOCK}
        fields = {"by": person, **items, "mode": "fixed range", **given}
        self.on(1.0)
        act = Act(key or new_key(), name, fields["by"], fields, self.clock(), photo=photo)
        return run_acts(self.shop, self.actor, self.run, [act])[0]

    def sign(self, step: str, who: str = "", pin: str = "") -> Result:
        """Sign a step as it is seen."""
        name = who or self.who
        return self.send(
            "signature.given",
            step=step,
            person=self.stock.people[name],
            pin=pin or PIN[name],
            seen=self.view().seen,
        )

    def do(self, step: Step, text: str = "") -> Result:
        """Do the step that is due as it should be done."""
        if step.photo:
            self.send("photo.added", PICTURE, step=step.id, what="the step")
        if step.act == "sign":
            return self.sign(step.id)
        if step.act == "wait" and step.wait is not None:
            self.send("wait.begun", step=step.id)
            self.on(step.wait)
            return self.send("wait.over", step=step.id)
        if step.act == "lock":
            self.used += 1
            return self.send("lock.hung", step=step.id, lock=self.stock.locks[self.used - 1])
        if step.reading is None:
            return self.send("step.done", step=step.id)
        self.on(step.reading.after)
        fits = "400 V" if step.act == "prove" else "0.1 V"
        return self.send("reading.entered", step=step.id, text=text or fits)

    def follow(self, until: str = "") -> None:
        """Do what is due, up to but not with a step; or to the end."""
        before = ""
        while (row := self.view().current) is not None and row.step.id != until:
            assert row.step.id != before, self.view().last
            found, before = self.do(row.step), row.step.id
            assert found.number is not None and not found.refused, (row.step.id, found)
