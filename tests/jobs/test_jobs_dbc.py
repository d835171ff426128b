"""A bus written as a DBC and read by others; a DBC read in whole, or refused line by line."""

from __future__ import annotations

import tomllib
from pathlib import Path

import cantools
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swapwright.base.errors import InputError
from swapwright.build.car import Car
from swapwright.build.load import load_text
from swapwright.build.network import network_of
from swapwright.build.resolve import resolve
from swapwright.catalogue.read import Catalogue
from swapwright.jobs.dbc import bus_named, dbc_of
from swapwright.jobs.dbc_import import rows_of_dbc

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
CATALOGUE = Catalogue()
NAMES = ("ridgeway", "bakery", "parcel-round", "hill-farm", "fault-finder")

HEAD = 'VERSION ""\n\nNS_ :\n\nBS_:\n\nBU_: inverter vehicle_controller\n\n'
SOUND = f"""{HEAD}BO_ 272 torque_request: 8 vehicle_controller
 SG_ torque : 0|16@1- (0.1,0) [0|0] "Nm" inverter

BO_ 2365571311 motor_state: 6 inverter

CM_ BO_ 272 "asks for torque
BO_ 7 is no message here";
BA_DEF_ BO_ "GenMsgCycleTime" INT 0 65535;
BA_DEF_ "Baudrate" INT 0 1000000;
BA_DEF_DEF_ "GenMsgCycleTime" 0;
BA_DEF_DEF_ "Baudrate" 0;
BA_ "Baudrate" 500000;
BA_ "GenMsgCycleTime" BO_ 272 10;
"""
EMPTY = """format = 1
[[network.bus]]
name  = "drive"
nodes = ["inverter", "vehicle controller"]
"""


def car_of(text: str) -> Car:
    return resolve(load_text(text, "a car"), CATALOGUE)


def example(name: str) -> Car:
    return car_of((EXAMPLES / f"{name}.toml").read_text(encoding="utf-8"))


def taken_in(tmp_path: Path, dbc: str | bytes, document: str = EMPTY) -> str:
    path = tmp_path / "in.dbc"
    path.write_bytes(dbc if isinstance(dbc, bytes) else dbc.encode("utf-8"))
    car = car_of(document)
    return rows_of_dbc(path, car, document, bus_named(car, "a car", ""))


def refused(tmp_path: Path, dbc: str, document: str = EMPTY) -> list[tuple[int | None, str]]:
    with pytest.raises(InputError) as caught:
        taken_in(tmp_path, dbc, document)
    return [(problem.line, problem.message) for problem in caught.value.problems]


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", NAMES)
def test_another_reader_finds_in_the_dbc_what_the_build_file_says(name: str):
    car = example(name)
    bus = network_of(car).buses[0]
    database = cantools.database.load_string(dbc_of(car, name, bus), database_format="dbc")
    assert len(database.messages) == len(network_of(car).on(bus))
    for message in network_of(car).on(bus):
        identifier = int(car.number(f"{message.path}.identifier"))
        found = database.get_message_by_name(message.name.replace(" ", "_").replace("-", "_"))
        assert found.frame_id == identifier
        assert found.is_extended_frame == car.flags.get(f"{message.path}.extended", False)
        assert found.length == car.number(f"{message.path}.bytes")
        assert found.cycle_time == pytest.approx(car.number(f"{message.path}.period") * 1000)
        assert found.senders == [message.sender.replace(" ", "_").replace("-", "_")]
        assert all(signal in found.comment for signal in message.carries or ())
    assert database.buses[0].name == bus.name
    assert database.buses[0].baudrate == car.number(f"{bus.path}.bit_rate")


@pytest.mark.arithmetic
@pytest.mark.parametrize("name", NAMES)
def test_what_was_written_comes_back_as_it_was(name: str, tmp_path: Path):
    car = example(name)
    bus = network_of(car).buses[0]
    nodes = ", ".join(f'"{node}"' for node in bus.nodes)
    bare = f'format = 1\n[[network.bus]]\nname = "drive"\nnodes = [{nodes}]\n'
    rows = taken_in(tmp_path, dbc_of(car, name, bus), bare)
    back = tomllib.loads(rows)["network"]["message"]
    for message, row in zip(network_of(car).on(bus), back, strict=True):
        assert row["identifier"] == car.number(f"{message.path}.identifier")
        assert row["bytes"] == car.number(f"{message.path}.bytes")
        assert row["sender"] == message.sender
        assert row["period"] == f"{car.number(f'{message.path}.period') * 1000:.0f} ms"


@pytest.mark.arithmetic
def test_names_that_are_spelled_alike_stay_two_words_of_the_format():
    document = EMPTY + "".join(
        f'[[network.message]]\nname = "{name}"\nbus = "drive"\nsender = "inverter"\n'
        f"identifier = {number}\nbytes = 8\n"
        for number, name in enumerate(("a long name " * 3 + "A", "a long name " * 3 + "B", "2nd"))
    )
    car = car_of(document)
    database = cantools.database.load_string(
        dbc_of(car, "a car", network_of(car).buses[0]), database_format="dbc"
    )
    names = [message.name for message in database.messages]
    assert len(set(names)) == 3
    assert all(len(name) <= 32 for name in names)


@pytest.mark.arithmetic
def test_a_message_without_what_the_format_needs_is_named_before_anything_is_written():
    car = car_of(f'{EMPTY}[[network.message]]\nname = "m"\nbus = "drive"\nsender = "dash"\n')
    with pytest.raises(InputError) as caught:
        dbc_of(car, "a car", network_of(car).buses[0])
    paths = [problem.path for problem in caught.value.problems]
    assert paths == [f"network.message[0].{key}" for key in ("identifier", "bytes", "sender")]


@pytest.mark.arithmetic
def test_a_sound_dbc_comes_in_whole(tmp_path: Path):
    rows = taken_in(tmp_path, SOUND)
    assert "# signals: torque\n" in rows
    first, second = tomllib.loads(rows)["network"]["message"]
    assert first == {
        "name": "torque_request",
        "bus": "drive",
        "sender": "vehicle controller",
        "identifier": 272,
        "bytes": 8,
        "period": "10 ms",
    }
    assert second["extended"] is True
    assert second["identifier"] == 2365571311 - 0x80000000
    network = network_of(car_of(EMPTY + rows))
    assert [message.bus for message in network.messages] == [network.buses[0]] * 2


@pytest.mark.arithmetic
def test_rows_come_as_lines_of_a_list_where_the_file_keeps_its_messages_in_one(tmp_path: Path):
    document = EMPTY.replace("format = 1\n", "format = 1\n[network]\nmessage = [\n]\n")
    rows = taken_in(tmp_path, SOUND, document)
    assert (
        car_of(document.replace("message = [\n", f"message = [\n{rows}")).counts["network.message"]
        == 2
    )


@pytest.mark.arithmetic
def test_a_dbc_of_the_western_code_page_is_read(tmp_path: Path):
    assert "torque_request" in taken_in(tmp_path, SOUND.replace("Nm", "°C").encode("cp1252"))


@pytest.mark.arithmetic
@pytest.mark.parametrize(
    ("was", "becomes", "line"),
    [
        ("BO_ 272 torque_request: 8", "BO_ 272 torque_request 8", 9),
        ("0|16@1-", "0|16@1- x", 10),
        ("0|16@1-", "60|16@1-", 9),
        ("BO_ 2365571311 motor_state: 6", "BO_ 2365571311 motor_state: 64", 12),
        ("BO_ 2365571311 motor_state", "BO_ 272 motor_state", 12),
        ("BO_ 2365571311 motor_state", "BO_ 2365571311 torque_request", 12),
        ("BO_ 2365571311 motor_state", "BO_ 4000 motor_state", 12),
        ("BO_ 272 10;", "BO_ 273 10;", 21),
        ("BO_ 272 10;", "BO_ 272 7200000;", 9),
        ('BA_ "GenMsgCycleTime"', 'BA_ "Untold"', 21),
    ],
    ids=[
        "a colon left out",
        "a stray letter",
        "a signal beyond its message",
        "too many bytes",
        "an identifier twice",
        "a name twice",
        "an identifier of too many bits",
        "a period of no message",
        "a period of two hours",
        "an attribute nobody defined",
    ],
)
def test_a_fault_of_a_dbc_is_told_by_its_line_and_nothing_comes_in(tmp_path, was, becomes, line):
    assert was in SOUND
    problems = refused(tmp_path, SOUND.replace(was, becomes))
    assert line in [each for each, _ in problems]


@pytest.mark.arithmetic
def test_every_fault_the_reader_lets_pass_is_told_at_once(tmp_path: Path):
    dbc = SOUND.replace("BO_ 272 10;", "BO_ 273 10;").replace("state: 6", "state: 64")
    assert [line for line, _ in refused(tmp_path, dbc)] == [12, 21]


MANY = f"""{HEAD}BO_ 272 torque_request 8 vehicle_controller
 SG_ torque : 0|16@1- (0.1,0) [0|0] "Nm" inverter

BO_ 288 motor_state: 4 inverter
 SG_ speed : 0|16@1- (1,0) [0|0] "rpm" vehicle_controller
 SG_ current : 24|16@1- (1,0) [0|0] "A" vehicle_controller

BO_ 304 link: 8 inverter
 SG_ voltage : 0|16@1- (1,0 [0|0] "V" vehicle_controller
 SG_ state : 16|8@1+ (1,0) [0|0] "" vehicle_controller

BO_ 320 limits: 64 inverter

BO_ 336 temperatures: 8 inverter

CM_ BO_ 272 "asks for torque
BO_ 7 is no message here";
BA_DEF_ BO_ "GenMsgCycleTime" INT 0 65535;
BA_DEF_DEF_ "GenMsgCycleTime" 0;
BA_ "GenMsgCycleTime" BO_ 272 10;
BA_ "GenMsgCycleTime" BO_ 337 10;
BA_ "Untold" BO_ 336 10;
BA_ "GenMsgCycleTime" BO_ 336 7200000;
"""
"""Seven faults, sound lines between them."""


@pytest.mark.arithmetic
def test_every_fault_of_a_dbc_is_told_at_once_by_its_line(tmp_path: Path):
    told = refused(tmp_path, MANY)
    assert [line for line, _ in told] == [9, 12, 17, 20, 22, 29, 30]
    taken = '[[network.message]]\nname = "link"\nbus = "drive"\n'
    mended = MANY.replace("(1,0 [", "(1,0) [")
    assert (16, "the build file has a message of this name") in refused(
        tmp_path, mended, EMPTY + taken
    )


@pytest.mark.arithmetic
def test_a_statement_that_does_not_end_is_one_fault_and_not_a_fault_of_all_behind_it(tmp_path):
    dbc = SOUND.replace("INT 0 65535;", "INT 0 65535")
    assert [line for line, _ in refused(tmp_path, dbc)] == [17]
    dbc = SOUND.replace("INT 0 65535;", "INT zero;")
    assert [line for line, _ in refused(tmp_path, dbc)] == [16]


@pytest.mark.arithmetic
def test_a_file_that_is_faulty_all_over_is_not_read_for_ever(tmp_path: Path):
    dbc = HEAD + "".join(f"BO_ {n} m{n} 8 inverter\n\n" for n in range(1, 200))
    told = refused(tmp_path, dbc)
    assert 20 < len(told) < 40
    assert "there may be more" in told[-1][1]


@pytest.mark.arithmetic
def test_a_message_the_build_file_has_already_is_refused(tmp_path: Path):
    row = '[[network.message]]\nname = "{}"\nbus = "drive"\nidentifier = {}\n'
    for name, number in (("torque_request", 1), ("another", 272)):
        ((line, _),) = refused(tmp_path, SOUND, EMPTY + row.format(name, number))
        assert line == 9


@pytest.mark.arithmetic
def test_a_file_that_is_none_is_refused(tmp_path: Path):
    car = car_of(EMPTY)
    with pytest.raises(InputError, match="cannot be read"):
        rows_of_dbc(tmp_path / "none.dbc", car, EMPTY, network_of(car).buses[0])
    assert refused(tmp_path, "")[0][0] == 1


@pytest.mark.arithmetic
def test_which_bus_is_meant_has_to_be_said_where_there_are_two():
    car = car_of(f'{EMPTY}[[network.bus]]\nname = "body"\n')
    assert bus_named(car, "a car", "body").name == "body"
    for name in ("", "other"):
        with pytest.raises(InputError, match="drive, body"):
            bus_named(car, "a car", name)


@pytest.mark.property
@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(
    place=st.integers(0, len(SOUND) - 1),
    length=st.integers(0, 12),
    put=st.text(st.sampled_from('"0189:;|@+-\n _BOSGxé\x00'), max_size=4),
)
def test_whatever_is_wrong_with_a_dbc_it_comes_in_whole_or_is_refused(
    tmp_path: Path, place: int, length: int, put: str
):
    dbc = SOUND[:place] + put + SOUND[place + length :]
    try:
        rows = taken_in(tmp_path, dbc)
    except InputError as error:
        assert all(problem.line is not None for problem in error.problems)
    else:
        car_of(EMPTY + rows)
