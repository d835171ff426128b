"""How many records fifty people can write at once, and how long one of them waits for the disk.

The reference is the same disk asked to keep one row at a time by one writer and nothing else.
"""

from __future__ import annotations

import os
import sqlite3
import statistics
import tempfile
import threading
import time
from pathlib import Path

from swapwright.records.record import Draft
from swapwright.records.store import Store, open_store
from swapwright.records.verify import verify

PEOPLE = 50
SECONDS = float(os.environ.get("BENCH_SECONDS", "20"))
PLACE = os.environ.get("BENCH_STORE", "")
"""A database's URL to measure instead of a file; one without a record in it."""
REFERENCE_ROWS = 200


def main() -> None:
    """Print the rate, the median and the 95th percentile of a write."""
    with tempfile.TemporaryDirectory() as folder:
        alone = _one_row_at_a_time(Path(folder) / "reference.db")
        store = open_store(PLACE or Path(folder) / "shop.db")
        waits = _record(store)
        found = verify(store)
        store.close()
    quick = sorted(waits)
    p95 = quick[int(0.95 * (len(quick) - 1))]
    kind = "PostgreSQL" if PLACE else "SQLite"
    print(f"{PEOPLE} people recording at once for {SECONDS:.0f} s, {kind}")
    print(f"  records            {found.records}, faults {len(found.faults)}")
    print(f"  records a second   {len(quick) / SECONDS:8.0f}")
    print(f"  median             {1e3 * statistics.median(quick):8.1f} ms")
    print(f"  95th percentile    {1e3 * p95:8.1f} ms, {p95 / (PEOPLE * alone):.1f} of fifty rows")
    print(f"  longest            {1e3 * quick[-1]:8.1f} ms")
    print(f"  one row, one writer {1e3 * alone:7.1f} ms")


def _one_row_at_a_time(file: Path) -> float:
    """Return how long SQLite takes to put one row on the disk, s."""
    connection = sqlite3.connect(file, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("CREATE TABLE row (number INTEGER PRIMARY KEY, text TEXT)")
    begun = time.perf_counter()
    for number in range(REFERENCE_ROWS):
        connection.execute("INSERT INTO row VALUES (?, ?)", (number, "x" * 600))
    took = time.perf_counter() - begun
    connection.close()
    return took / REFERENCE_ROWS


def _record(store: Store) -> list[float]:
    """Let everybody write readings until the time is over, and return how long each write took."""
    waits: list[float] = []
    end = time.perf_counter() + SECONDS

    def write(person: int) -> None:
        about = {"vehicle": f"v-{person % 10}", "run": f"r-{person}"}
        count = 0
        while time.perf_counter() < end:
            body = {"step": f"measure.{count}", "point": "plus to chassis", "text": "2,3 V"}
            begun = time.perf_counter()
            store.append(Draft("reading.entered", f"p-{person}", about, body))
            waits.append(time.perf_counter() - begun)
            count += 1

    writers = [threading.Thread(target=write, args=(each,)) for each in range(PEOPLE)]
    for each in writers:
        each.start()
    for each in writers:
        each.join()
    return waits


if __name__ == "__main__":
    main()
