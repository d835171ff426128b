"""A writer that is killed loses nothing it has acknowledged. A kill is not a loss of power."""

from __future__ import annotations

import os
import random
import subprocess
import sys
from pathlib import Path

import pytest

from swapwright.records.store import open_store
from swapwright.records.verify import verify

pytestmark = pytest.mark.arithmetic

HERE = Path(__file__).parent
ROUNDS, EACH = 10, 110
"""Kills, and about how many records are acknowledged before each: more than 1,000 in all."""


def test_nothing_acknowledged_is_lost_when_the_writer_is_killed(place: str):
    open_store(place).close()
    acknowledged: dict[int, tuple[int, str]] = {}
    pick = random.Random(5)
    for _ in range(ROUNDS):
        first = max(acknowledged, default=0) + 1_000
        # Two write at once: one is killed while the other may hold the lock or wait for it.
        writers = [_writer(place, first), _writer(place, first + 500_000)]
        _read(writers[0], EACH + pick.randrange(40), acknowledged)
        for each in writers:
            each.kill()
            rest, _ = each.communicate()
            _note(rest.splitlines(), acknowledged)
        with_all = open_store(place)
        kept = {each.number: each for each in with_all.records()}
        for person, (number, chained) in acknowledged.items():
            assert kept[number].about == {"person": f"p-{person}"}
            assert kept[number].chained == chained
        assert verify(with_all).faults == ()
        with_all.close()
    assert len(acknowledged) >= 1_000


def _writer(place: str, first: int) -> subprocess.Popen[str]:
    return subprocess.Popen(
        [sys.executable, str(HERE / "writer.py"), place, str(first)],
        stdout=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": str(HERE)},
    )


def _read(writer: subprocess.Popen[str], number: int, acknowledged: dict) -> None:
    assert writer.stdout is not None
    _note([writer.stdout.readline() for _ in range(number)], acknowledged)


def _note(lines: list[str], acknowledged: dict) -> None:
    """Note what was acknowledged; the last line may have been cut short."""
    for line in lines:
        words = line.split()
        if len(words) == 3 and len(words[2]) == 64:
            acknowledged[int(words[0])] = (int(words[1]), words[2])
