"""Fifty people who record over HTTP for two minutes, as from fifty tablets: rates and waits.

The reference is the same server asked for a page that needs no record: what an answer costs alone.
"""

from __future__ import annotations

import http.client
import json
import os
import re
import statistics
import subprocess
import sys
import tempfile
import threading
import time
import urllib.parse
from dataclasses import dataclass, field
from pathlib import Path
from uuid import uuid4

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.desk import Desk
from swapwright.jobs.procedure import procedure_of_car
from swapwright.jobs.shop import Shop
from swapwright.procedures.document import procedure_document
from swapwright.records.record import Draft, Json, new_key
from swapwright.records.verify import verify

ROOT = Path(__file__).parents[1]
PEOPLE = 50
SECONDS = float(os.environ.get("BENCH_SECONDS", "120"))
PACE = float(os.environ.get("BENCH_PACE", "2"))
"""Seconds between two acts of one person; quicker than anybody measures."""
STARTS_WITHIN = 60.0
POINT = "measure.inverter.pole_pole"


@dataclass
class Tally:
    """How long each act took until it was on record, and what was refused."""

    waits: list[float] = field(default_factory=list)
    acknowledged: set[str] = field(default_factory=set)
    refused: int = 0


def main() -> None:
    """Print how many acts were kept a second, and how long one waited."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "shop" / "shop.db"
        cars = Path(folder) / "cars"
        cars.mkdir()
        (cars / "ridgeway.toml").write_bytes((ROOT / "examples" / "ridgeway.toml").read_bytes())
        runs = _begun(place, cars / "ridgeway.toml")
        process, port = _serving(folder, cars)
        try:
            alone = _alone(port)
            tally = _record(port, runs)
        finally:
            process.terminate()
            process.wait(30)
        shop = Shop(place, key=Path(folder) / "config" / "key.pem")
        kept = {each.key for each in shop.store.records(kinds=("reading.entered",))}
        faults = verify(shop.store).faults
        shop.store.close()
    quick = sorted(tally.waits)
    p95 = quick[int(0.95 * (len(quick) - 1))]
    lost = len(tally.acknowledged - kept)
    print(f"{PEOPLE} people over HTTP for {SECONDS:.0f} s, one act every {PACE:.0f} s each")
    print(f"  acts acknowledged  {len(quick)}, lost {lost}, refused {tally.refused}")
    print(f"  faults of chain    {len(faults)}")
    print(f"  acts a second      {len(quick) / SECONDS:8.0f}")
    print(f"  median             {1e3 * statistics.median(quick):8.1f} ms")
    print(f"  95th percentile    {1e3 * p95:8.1f} ms, {p95 / alone:.1f} of an answer alone")
    print(f"  longest            {1e3 * quick[-1]:8.1f} ms")
    print(f"  an answer alone    {1e3 * alone:8.1f} ms")


def _begun(place: Path, file: Path) -> list[str]:
    """Begin one run for every two people, each on a vehicle of its own; return their ids."""
    shop = Shop(place, key=place.parent / "key.pem")
    look = Desk(file, Catalogue(), shop.today).look()
    assert look.checked is not None
    procedure = procedure_of_car(look.checked, "isolation")
    runs = []
    for number in range(PEOPLE // 2):
        vehicle, run, person = (f"{kind}-{new_key()[:12]}" for kind in ("v", "r", "p"))
        about = {"vehicle": vehicle, "run": run}
        begun: dict[str, Json] = {
            "procedure": procedure_document(procedure),
            "people": [person],
            "items": [],
            "worker": person,
        }
        named = {"name": f"car {number}", "car": "ridgeway", "identity": ""}
        shop.write(
            Draft("person.added", "local", {"person": person}, {"name": f"Person {number}"}),
            Draft("vehicle.added", "local", {"vehicle": vehicle}, named),
            Draft("run.begun", person, about, begun),
        )
        runs.append(run)
    shop.store.close()
    return runs


def _serving(folder: str, cars: Path) -> tuple[subprocess.Popen[str], int]:
    """Start the workbench itself over the shop; return it and its port."""
    command = [sys.executable, "-m", "swapwright.cli", "workbench", str(cars), "--no-browser"]
    process = subprocess.Popen(
        [*command, "--shop", str(Path(folder) / "shop")],
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env={**os.environ, "XDG_CONFIG_HOME": str(Path(folder) / "config")},
    )
    assert process.stdout is not None
    end = time.monotonic() + STARTS_WITHIN
    while time.monotonic() < end:
        found = re.search(r"http://127\.0\.0\.1:(\d+)", process.stdout.readline())
        if found:
            return process, int(found[1])
    raise SystemExit("the workbench did not start")


def _alone(port: int) -> float:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    times = []
    for _ in range(50):
        begun = time.perf_counter()
        connection.request("GET", "/static/mark.svg")
        connection.getresponse().read()
        times.append(time.perf_counter() - begun)
    return statistics.median(times)


def _record(port: int, runs: list[str]) -> Tally:
    tally, guard = Tally(), threading.Lock()
    end = time.perf_counter() + SECONDS

    def one(number: int) -> None:
        run = runs[number // 2]
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        connection.request("GET", f"/shop/runs/{run}")
        token = re.search(r'name="token" value="([^"]+)"', connection.getresponse().read().decode())
        assert token is not None
        count = 0
        time.sleep(PACE * number / PEOPLE)
        while time.perf_counter() < end:
            begun = time.perf_counter()
            key, answer = _send(connection, run, token[1], number, count)
            took = time.perf_counter() - begun
            with guard:
                tally.waits.append(took)
                is_kept = answer["results"][0]["number"] is not None
                tally.acknowledged |= {key} if is_kept else set()
                tally.refused += not is_kept
            count += 1
            time.sleep(max(PACE - took, 0.0))

    people = [threading.Thread(target=one, args=(each,)) for each in range(PEOPLE)]
    for each in people:
        each.start()
    for each in people:
        each.join()
    return tally


def _send(
    connection: http.client.HTTPConnection, run: str, token: str, number: int, count: int
) -> tuple[str, dict[str, list[dict[str, object]]]]:
    key = uuid4().hex
    act = {
        "key": key,
        "do": "reading.entered",
        "fields": {"step": POINT, "text": "0.1 V", "mode": "fixed range"},
        "device": f"device-{number}",
        "sequence": count,
        "clock": {"wall": "2026-11-27T09:00:00+00:00", "boot": str(number), "ticks": float(count)},
    }
    body = urllib.parse.urlencode({"token": token, "acts": json.dumps([act])})
    headers = {"content-type": "application/x-www-form-urlencoded"}
    connection.request("POST", f"/shop/runs/{run}/acts", body, headers)
    answer = connection.getresponse()
    text = answer.read()
    if answer.status != http.client.OK:
        raise SystemExit(f"{answer.status}: {text[:200]!r}")
    return key, json.loads(text)


if __name__ == "__main__":
    main()
