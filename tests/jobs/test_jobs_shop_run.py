"""A run in a shop: begun, followed step by step by who may with what fits, and never rewritten."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest
from a_run import PICTURE, Page
from a_shop import Clock, a_shop, as_person, sent
from stocked import PIN, Stocked, a_vehicle, add_item, stocked

from swapwright.base.errors import InputError
from swapwright.catalogue.read import Catalogue
from swapwright.jobs import clock as clocks
from swapwright.jobs.desk import Desk, Look
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import LOCAL_ACTOR, Refused, Shop
from swapwright.jobs.shop_board import board_row
from swapwright.jobs.shop_run_begin import begin_run
from swapwright.jobs.shop_run_record import run_record
from swapwright.jobs.shop_vehicle import tell_happening
from swapwright.procedures.step import Procedure
from swapwright.records.record import new_key
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"


def look_at(name: str) -> Look:
    return Desk(EXAMPLES / f"{name}.toml", Catalogue(), lambda: date(2026, 11, 27)).look()


@pytest.fixture(scope="module")
def look() -> Look:
    return look_at("ridgeway")


@pytest.fixture
def opened(tmp_path, monkeypatch):
    with a_shop(tmp_path, monkeypatch) as (shop, clock):
        started = clock.now
        monkeypatch.setattr(clocks, "ticks", lambda: (clock.now - started).total_seconds())
        yield shop, clock


@pytest.fixture
def shop(opened) -> Shop:
    return opened[0]


@pytest.fixture
def clock(opened) -> Clock:
    return opened[1]


@pytest.fixture
def stock(shop: Shop) -> Stocked:
    return stocked(shop)


def procedure_in(look: Look) -> Procedure:
    assert look.checked is not None
    return procedure_of_car(look.checked, "isolation")


@pytest.fixture
def vehicle(shop: Shop, look: Look) -> str:
    return a_vehicle(shop, procedure_in(look))


def begin(
    shop: Shop, vehicle: str, look: Look | None, stock: Stocked, kind: str = "isolation"
) -> str:
    people = [stock.people["anne"], stock.people["ben"]]
    given = sent(worker=people[0])
    return begin_run(shop, LOCAL_ACTOR, vehicle, kind, look, given, people, [])


def page_of(shop: Shop, clock: Clock, stock: Stocked, run: str) -> Page:
    def mark():
        return {"server": dict(clocks.clock_mark(shop.now()))}

    return Page(shop, run, stock, lambda seconds: clock.on(seconds=seconds), mark)


@pytest.fixture
def page(shop, clock, stock, vehicle, look) -> Page:
    return page_of(shop, clock, stock, begin(shop, vehicle, look, stock))


POINT = "measure.inverter.pole_pole"


def test_two_people_isolate_a_car_and_the_board_says_where_by_whom_and_until_when(
    shop, page, vehicle
):
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.voltage.word == "energised" and row.run == page.run
    page.follow("short")
    view = page.view()
    assert view.absence.is_verified and view.absence.by == "Anne Weld"
    assert "meter" in view.absence.meter and view.design == ""
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and not row.is_treated_as_energised
    assert row.voltage.word.startswith("absence verified at ") and "Anne Weld" in row.voltage.word
    assert row.lock.word == "locked by Anne Weld"
    page.follow()
    assert page.view().current is None
    found = run_record(shop, LOCAL_ACTOR, page.run)
    assert found is not None and all(each.counts for each in found.readings)
    assert {each.by for each in found.readings} == {"Anne Weld"}
    assert all("meter" in each.meter and "leads" in each.leads for each in found.readings)
    assert not verify(shop.store).faults


@pytest.mark.parametrize("happening", ["moved", "supplied", "plugged", "remade", "energised"])
def test_what_anybody_tells_of_the_vehicle_ends_absence_on_the_board(
    shop, page, vehicle, happening
):
    page.follow("short")
    tell_happening(shop, LOCAL_ACTOR, vehicle, sent(happening=happening))
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.is_treated_as_energised
    assert not page.view().absence.is_verified


def test_a_statement_is_stale_after_half_a_day(shop, page, vehicle, clock):
    page.follow("short")
    clock.on(hours=12)
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.voltage.word == "unknown" and row.is_treated_as_energised


def test_a_meter_that_fails_its_calibration_later_ends_what_was_verified_with_it(shop, page):
    page.follow("short")
    meter = page.stock.items["meter"]
    from swapwright.records.record import Draft

    failed = {
        "test": "calibration",
        "on": shop.today().isoformat(),
        "result": "failed",
        "by_whom": "a lab",
    }
    shop.write(Draft("item.tested", "local", {"item": meter}, failed))
    assert not page.view().absence.is_verified


@pytest.mark.parametrize("text", ["48 V", "-12.4 V", "OL"])
def test_a_contradicting_reading_is_kept_at_once_and_stops_the_job(shop, page, vehicle, text):
    page.follow(POINT)
    found = page.send("reading.entered", step=POINT, text=text)
    assert found.number is not None and not found.refused
    view = page.view()
    assert view.stop is not None and text in view.stop.words
    assert shop.store.records(kinds=("reading.entered",))[-1].body["text"] == text
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.voltage.word == "energised"
    refused = page.send("step.done", step="short")
    assert refused.number is None and "prove the meter again" in refused.refused


def test_a_stop_is_cleared_by_the_responsible_with_the_pin_once_the_meter_is_proved(page):
    page.follow(POINT)
    page.send("reading.entered", step=POINT, text="48 V")
    people = page.stock.people

    def clear(name: str) -> str:
        fields = {"person": people[name], "pin": PIN[name], "found": "a second pack"}
        return page.send("stop.cleared", **fields).refused

    assert "prove the meter again" in clear("carla")
    page.send("reading.entered", step="prove.before", text="400 V")
    assert "only as high-voltage responsible" in clear("ben")
    assert clear("carla") == ""
    view = page.view()
    assert view.stop is None and view.current is not None
    assert view.current.step.phase == "Take every source away"


def test_a_reading_without_a_unit_is_asked_again_and_the_first_entry_kept(shop, page):
    page.follow(POINT)
    first = page.send("reading.entered", step=POINT, text="0.2")
    assert first.number is not None and "unit" in first.again
    second = page.send("reading.entered", step=POINT, text="0.2 V")
    kept = shop.store.records(kinds=("reading.entered",))
    assert [each.body["text"] for each in kept[-2:]] == ["0.2", "0.2 V"]
    assert kept[-1].body["corrected"] == first.number and not second.again
    row = next(each for each in page.view().rows if each.step.id == POINT)
    assert row.is_done


def test_what_is_no_number_is_sent_back_and_nothing_is_written(shop, page):
    page.follow(POINT)
    before = shop.store.head()[0]
    found = page.send("reading.entered", step=POINT, text="dunno")
    assert found.number is None and "not a number" in found.refused
    assert shop.store.head()[0] == before


def test_what_is_sent_twice_is_kept_once(shop, page):
    key = new_key()
    one = page.send("step.done", key=key, step="before.people")
    two = page.send("step.done", key=key, step="before.people")
    assert one.number == two.number is not None
    assert len(shop.store.records(kinds=("step.done",))) == 1


def test_a_step_out_of_turn_is_refused_in_words_and_logged(shop, page):
    found = page.send("step.done", step="off.key")
    assert found.number is None and found.refused.startswith("first comes: ")
    refused = shop.store.records(kinds=("access.refused",))
    assert "first comes" in str(refused[-1].body["reason"])


def test_a_step_with_a_photo_is_not_done_without_it(page):
    walk = next(row.step for row in page.view().rows if row.step.photo)
    page.follow(walk.id)
    assert "photo" in page.send("step.done", step=walk.id).refused
    text = page.send("photo.added", b"no picture at all", step=walk.id, what="the step")
    assert text.number is None and text.refused
    assert page.send("photo.added", PICTURE, step=walk.id, what="the step").number
    assert page.send("step.done", step=walk.id).number


def test_a_wait_is_over_only_once_it_has_run(page, clock):
    page.follow("wait")
    page.send("wait.begun", step="wait")
    clock.on(seconds=100)
    assert "were left" in page.send("wait.over", step="wait").refused
    row = page.view().current
    assert row is not None and row.left is not None and 0.0 < row.left < 201.0
    assert "were left" in page.send("wait.over", step="wait").refused
    clock.on(seconds=row.left)
    assert page.send("wait.over", step="wait").number


def test_a_clock_set_on_does_not_shorten_a_wait(shop, page, monkeypatch):
    page.follow("wait")
    page.send("wait.begun", step="wait")
    monkeypatch.setattr(shop, "now", lambda: page.shop.store._now() + timedelta(hours=2))
    assert "were left" in page.send("wait.over", step="wait").refused


@pytest.mark.parametrize(
    ("who", "pin", "why"),
    [("anne", "111111", "not their PIN"), ("nobody", "111111", "somebody who is in the shop")],
)
def test_a_signature_takes_the_right_pin_of_somebody_who_is_here(page, who, pin, why):
    page.follow("walk.sign")
    person = page.stock.people.get(who, "p-nobody")
    fields = {"step": "walk.sign", "person": person, "pin": pin, "seen": page.view().seen}
    found = page.send("signature.given", **fields)
    assert found.number is None and why in found.refused


def test_a_guessed_pin_waits_longer_each_time(page):
    page.follow("walk.sign")
    said = [page.sign("walk.sign", pin=f"11111{number}").refused for number in range(8)]
    assert any("too early" in each for each in said)
    assert "too early" in page.sign("walk.sign").refused


def test_a_signature_binds_to_what_was_on_the_page(page):
    page.follow("walk.sign")
    fields = {"person": page.stock.people["anne"], "pin": PIN["anne"], "step": "walk.sign"}
    old = page.send("signature.given", seen="0" * 64, **fields)
    assert old.number is None and "look again" in old.refused
    assert page.send("signature.given", **fields).number is None
    assert page.sign("walk.sign").number


def test_somebody_without_the_competence_does_no_step_and_their_reading_does_not_count(shop, page):
    from a_shop import person

    new = person(shop, "Dora Splice", "technician", level="aware", pin="664411")
    page.follow("open.12v")
    fields = {"by": new, "item.meter": page.stock.items["meter"]}
    actor = as_person(shop, new)
    dora = Page(shop, page.run, page.stock, page.on, page.clock, actor=actor)
    found = dora.send("step.done", step="open.12v")
    assert found.number is None and "Dora Splice has aware on record" in found.refused
    kept = dora.send("reading.entered", step=POINT, text="400 V", **fields)
    assert kept.number is not None, "a reading is never refused"
    assert page.view().stop is not None


F5 = [
    ("gloves", {"class": "00"}, None, "before.gloves", "class 00"),
    ("meter", {"category": "CAT II", "voltage": 1000.0, "dc_voltage": 1000.0}, None, "", "CAT II"),
    ("gloves", {"class": "0"}, date(2026, 1, 5), "before.gloves", "out of date"),
    (
        "leads",
        {"category": "CAT II", "voltage": 600.0},
        None,
        "before.meter",
        "too weak",
    ),
]


@pytest.mark.parametrize(("kind", "data", "tested", "step", "why"), F5)
def test_what_does_not_fit_the_car_is_stopped_at_the_step_that_needs_it(
    shop, stock, clock, kind, data, tested, step, why
):
    look = look_at("fault-finder")
    vehicle = a_vehicle(shop, procedure_in(look))
    page = page_of(shop, clock, stock, begin(shop, vehicle, look, stock))
    bad = add_item(shop, kind, f"old {kind}", tested=tested, **data)
    step = step or "before.meter"
    page.follow(step)
    page.items = {**stock.items, kind: bad}
    found = page.send("step.done", step=step)
    assert found.number is None and why in found.refused and f"old {kind}" in found.refused
    page.items = None
    assert page.send("step.done", step=step).number, "with one that fits it goes on"


def test_a_reading_with_a_meter_too_weak_for_the_car_is_kept_and_does_not_count(shop, page):
    weak = add_item(shop, "meter", "old meter", category="CAT II", voltage=600.0, dc_voltage=600.0)
    page.follow("prove.before")
    page.items = {**page.stock.items, "meter": weak}
    found = page.send("reading.entered", step="prove.before", text="400 V")
    assert found.number is not None
    view = page.view()
    assert view.last is not None and "too weak" in view.last.why_not
    assert view.current is not None and view.current.step.id == "prove.before"


def test_a_run_is_handed_over_by_whoever_takes_it_with_their_pin(shop, page, vehicle):
    page.follow("short")
    ben = page.stock.people["ben"]
    found = page.send("run.handed_over", person=ben, pin=PIN["ben"])
    assert found.number is not None, found.refused
    assert not page.view().absence.is_verified
    page.who = "ben"
    page.follow("short")
    view = page.view()
    assert view.absence.is_verified and view.absence.by == "Ben Crimp"
    for each in page.view().hung:
        if "Anne Weld" in each.words:
            fields = {"hung": each.value, "person": page.stock.people["anne"], "pin": PIN["anne"]}
            assert page.send("lock.lifted", **fields).number
    assert page.view().absence.is_verified
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.lock.word == "locked by Ben Crimp"


def test_a_lock_is_lifted_by_its_owner_or_by_two_people_in_writing(page):
    page.follow("short")
    hung = page.view().hung[0].value
    people = page.stock.people
    own = {"hung": hung, "person": people["ben"], "pin": PIN["ben"]}
    assert page.send("lock.lifted", **own).number is None
    both = {
        "hung": hung,
        "person": people["carla"],
        "pin": PIN["carla"],
        "second": people["ben"],
        "second_pin": PIN["ben"],
        "reason": "Anne went to hospital; called, and the car was looked over",
    }
    same = {**both, "second": people["carla"], "second_pin": PIN["carla"]}
    assert "two different people" in page.send("lock.lifted", **same).refused
    assert page.send("lock.lifted", **both).number
    assert not page.view().absence.is_verified


def test_a_held_run_waits_until_it_is_taken_up_again(page):
    page.follow("off.load")
    page.send("run.held", reason="lunch")
    assert "held" in page.send("step.done", step="off.load").refused
    assert page.send("run.resumed").number
    assert page.send("step.done", step="off.load").number


def test_a_difference_ends_the_run_for_good(page):
    page.follow("walk.more")
    page.send("step.differs", step="walk.more", what="an orange cable to the boot")
    view = page.view()
    assert view.stop is not None and view.stop.is_final
    fields = {"person": page.stock.people["carla"], "pin": PIN["carla"], "found": "the cable"}
    assert "begin anew" in page.send("stop.cleared", **fields).refused
    assert page.send("run.ended", outcome="put right first").number


def test_a_second_run_is_not_begun_beside_an_open_one(shop, page, vehicle, look):
    with pytest.raises(Refused, match="a run is open"):
        begin(shop, vehicle, look, page.stock)
    page.send("run.ended", outcome="another day")
    assert begin(shop, vehicle, look, page.stock)


def test_a_file_that_is_not_the_revision_entered_is_entered_first(shop, stock, look):
    vehicle = a_vehicle(shop, procedure_in(look_at("fault-finder")))
    with pytest.raises(Refused, match="enter the revision first"):
        begin(shop, vehicle, look, stock)


def test_without_a_file_the_generic_procedure_is_run_and_leads_to_no_absence(
    shop, stock, clock, vehicle
):
    page = page_of(shop, clock, stock, begin(shop, vehicle, None, stock))
    view = page.view()
    assert view.procedure.is_generic and view.procedure.no_absence and view.design
    assert all(row.step.id != "sign.absence" for row in view.rows)


def test_nobody_begins_a_run_of_nobody(shop, stock, vehicle, look):
    with pytest.raises(InputError, match="said"):
        begin_run(shop, LOCAL_ACTOR, vehicle, "isolation", look, sent(worker=""), [], [])


def test_an_inspector_reads_and_enters_a_reading_and_no_more(shop, page):
    from a_shop import person

    who = person(shop, "Iris Gauge", "inspector")
    iris = Page(shop, page.run, page.stock, page.on, page.clock, actor=as_person(shop, who))
    assert "only as" in iris.send("step.done", step="before.people").refused
    assert iris.send("run.stopped", reason="smoke").number
    assert iris.send("reading.entered", step=POINT, text="0.1 V").number
    assert page.view().stop is not None


def test_giving_the_voltage_back_ends_absence_and_waits_for_every_lock_to_be_lifted(
    shop, page, vehicle, look, clock, stock
):
    page.follow()
    page.send("run.ended", outcome="isolated: the inverter is changed")
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and not row.is_treated_as_energised and row.run == ""
    back = page_of(shop, clock, stock, begin(shop, vehicle, look, stock, "re-energising"))
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.voltage.word == "energised"
    assert not page.view().absence.is_verified
    assert "another procedure" in page.view().lapsed
    while not (step := back.view().current.step).id.startswith("lift."):
        assert back.do(step, "2 Mohm" if step.reading else "").number
    refused = back.send("step.done", step=step.id)
    assert "the lock of Anne Weld still hangs there" in refused.refused
    for each in back.view().hung:
        fields = {"hung": each.value, "person": stock.people["anne"], "pin": PIN["anne"]}
        assert back.send("lock.lifted", **fields).number
    assert back.send("step.done", step=step.id).number
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.lock.word == "none"


@pytest.mark.parametrize(
    "kind",
    ["first energisation", "inside the pack", "damaged vehicle", "rescue of a person"],
)
def test_every_other_procedure_can_be_followed_to_its_end(shop, vehicle, look, clock, stock, kind):
    page = page_of(shop, clock, stock, begin(shop, vehicle, look, stock, kind))
    for _ in range(200):
        row = page.view().current
        if row is None:
            break
        step, spec = row.step, row.step.reading
        text = "" if spec is None else fitting(spec.expected.low, spec.expected.high, spec.unit)
        text = "400 V" if step.act == "prove" else text
        if step.people > 1 and step.act != "sign" and not row.signed and not page_done(page, step):
            assert page.do(step, text).number
        elif step.people > 1:
            for who in ("anne", "carla"):
                assert page.sign(step.id, who).number, (step.id, who)
        else:
            assert page.do(step, text).number, step.id
    assert page.view().current is None and page.view().stop is None
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.is_treated_as_energised


def page_done(page: Page, step) -> bool:
    return any(
        each.body["step"] == step.id
        for each in page.shop.store.records(kinds=("step.done",), run=page.run)
    )


def fitting(low: float, high: float, unit: str) -> str:
    """Return a reading between two ends, in SI."""
    value = low + 0.5 * (min(high, 10.0 * low + 1.0) - low)
    return f"{value:.4g} {unit}" if unit != "degC" else f"{value - 273.15:.4g} degC"


def test_a_stop_outlives_its_run_until_the_responsible_says_what_it_was(
    shop, page, vehicle, look, stock
):
    page.follow(POINT)
    page.send("reading.entered", step=POINT, text="380 V")
    assert page.send("run.ended", outcome="tired").number
    people = [stock.people["anne"], stock.people["ben"]]

    def again(**more: str) -> str:
        given = sent(worker=people[0], **more)
        return begin_run(shop, LOCAL_ACTOR, vehicle, "isolation", look, given, people, [])

    with pytest.raises(InputError, match="said"):
        again()
    carla = {"found": "a second pack", "clearer": stock.people["carla"]}
    with pytest.raises(Refused, match="PIN"):
        again(**carla, clearer_pin="111111")
    with pytest.raises(Refused, match="only as"):
        again(**{**carla, "clearer": people[1]}, clearer_pin=PIN["ben"])
    assert again(**carla, clearer_pin=PIN["carla"])
    row = board_row(shop, LOCAL_ACTOR, vehicle)
    assert row is not None and row.voltage.words == "not every source is opened and locked"


def test_a_difference_is_not_forgotten_by_beginning_anew(shop, page, vehicle, look, stock):
    page.follow("walk.more")
    page.send("step.differs", step="walk.more", what="a second pack")
    page.send("run.ended", outcome="begin anew")
    with pytest.raises(InputError, match="said"):
        begin(shop, vehicle, look, stock)


def test_one_lock_hangs_on_one_vehicle(shop, page, look, clock, stock):
    page.follow("wait")
    other = a_vehicle(shop, procedure_in(look), "Ridgeway 2")
    second = page_of(shop, clock, stock, begin(shop, other, look, stock))
    second.used = 6
    second.follow("lock.12v")
    found = second.send("lock.hung", step="lock.12v", lock=stock.locks[0])
    assert found.number is None and "hangs already, on Ridgeway 1" in found.refused


def test_what_one_did_is_not_kept_as_another_s(shop, page):
    actor = as_person(shop, page.stock.people["ben"])
    ben = Page(shop, page.run, page.stock, page.on, page.clock, actor=actor)
    anne = page.stock.people["anne"]
    found = ben.send("step.done", step="before.people", by=anne)
    assert found.number is None and "Anne Weld did this" in found.refused
    kept = ben.send("reading.entered", step=POINT, text="48 V", by=anne)
    assert kept.number is not None, "a reading is never refused, whoever sends it"
    body = shop.store.records(kinds=("reading.entered",))[-1].body
    assert body["told_by"] == anne and page.view().stop is not None


def test_a_key_that_was_another_act_s_is_told_and_takes_no_reading_away(page):
    key = new_key()
    page.send("run.held", key=key, reason="lunch")
    found = page.send("reading.entered", key=key, step=POINT, text="48 V")
    assert found.number is None and "another act" in found.refused


def test_nobody_picks_an_id_that_is_another_run_s(shop, page, look, stock):
    other = a_vehicle(shop, procedure_in(look), "Ridgeway 2")
    people = [stock.people["anne"]]
    given = {**sent(worker=people[0]), "key": page.run.removeprefix("r-")}
    with pytest.raises(InputError, match="key"):
        begin_run(shop, LOCAL_ACTOR, other, "isolation", look, given, people, [])
    row = board_row(shop, LOCAL_ACTOR, other)
    assert row is not None and row.voltage.word == "energised"


def test_a_pressed_stop_is_taken_back_by_who_works_and_then_all_is_measured_anew(page):
    page.follow("prove.after")
    page.send("run.stopped", reason="pressed by a sleeve")
    people = page.stock.people
    fields = {"person": people["anne"], "pin": PIN["anne"], "found": "pressed in error"}
    assert "prove the meter" in page.send("stop.cleared", **fields).refused
    page.send("reading.entered", step="prove.before", text="400 V")
    assert page.send("stop.cleared", **fields).number
    view = page.view()
    assert view.current is not None and view.current.step.id == "prove.before"


def test_what_was_done_before_a_source_came_back_counts_no_more_however_late_it_comes(
    shop, page, vehicle
):
    page.follow("lock.12v")
    tell_happening(shop, LOCAL_ACTOR, vehicle, sent(happening="plugged"))
    row = page.view().current
    assert row is not None and row.step.id == "off.load"
    mark = page.clock
    page.clock = lambda: {**mark(), "young": 0.0, "old": 600.0}
    found = page.send("step.done", step="off.load")
    assert found.number is None and "before this happened" in found.refused
    page.clock = mark
    assert page.send("step.done", step="off.load").number
