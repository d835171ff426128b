"""Tables in a terminal: none is wider than it, and no number is parted from its unit."""

from __future__ import annotations

import contextlib
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swapwright.cli.console import Console

pytestmark = pytest.mark.property

MESSAGES = (
    ("identifier", "message", "from", "every", "worst", "deadline"),
    ("0x110", "torque request", "vehicle controller", "10.0 ms", "1.54 ms", "10.0 ms"),
    ("0x330", "drive temperatures", "pack controller", "500 ms", "2.89 ms", "500 ms"),
)


def written(capsys: pytest.CaptureFixture[str], rows, width: int) -> list[str]:
    Console(width, has_colour=False, can_draw=True, encoding="utf-8").columns(rows)
    return capsys.readouterr().out.splitlines()


@pytest.mark.parametrize("width", [66, 72, 80, 100])
def test_a_table_of_messages_fits_the_terminal_and_keeps_numbers_whole(capsys, width: int):
    lines = written(capsys, MESSAGES, width)
    assert max(map(len, lines)) <= width
    for row in MESSAGES[1:]:
        (line,) = (line for line in lines if row[0] in line)
        for number in row[3:]:
            assert number in line


def test_where_there_is_room_every_row_is_one_line(capsys):
    assert len(written(capsys, MESSAGES, 100)) == len(MESSAGES)


@settings(max_examples=60, deadline=None, derandomize=True)
@given(
    rows=st.lists(
        st.lists(
            st.sampled_from(["pack", "lets go", "a longer run of words", ""]),
            min_size=3,
            max_size=3,
        ),
        min_size=1,
        max_size=5,
    )
)
def test_no_word_of_a_table_is_lost(rows):
    buffer = io.StringIO()
    with contextlib.redirect_stdout(buffer):
        Console(30, has_colour=False, can_draw=True, encoding="utf-8").columns(rows)
    shown = buffer.getvalue().split()
    asked = [word for row in rows for cell in row for word in cell.split()]
    assert sorted(shown) == sorted(asked)
