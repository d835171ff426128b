"""A real browser at a real server: what the browser tests share."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import uvicorn

from swapwright.catalogue.read import Catalogue
from swapwright.jobs.shop import Shop
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

CHROMIUM = Path(os.environ.get("CHROMIUM", "/usr/bin/chromium"))
AXE = Path(__file__).parent / "vendored" / "axe-4.14.1.min.js"
KEPT = Path(__file__).resolve().parents[2] / "build-output" / "screens"
"""Where screenshots of a run are kept."""
DESKTOP, PHONE, TABLET = (1280, 800), (360, 740), (800, 1180)
SIGN_LETTERS = "label-content-name-mismatch"
"""A rule that takes the letters within a symbol, as M in a motor's circle, for a link's label."""
STARTS_WITHIN = 20.0
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


@contextmanager
def serving(folder: Path, port: int = 0, shop: Shop | None = None) -> Iterator[str]:
    """Serve a folder of cars on a port, of its own unless one is given; give the address."""
    app = application(Garage(folder, Catalogue()), shop=shop)
    server = uvicorn.Server(uvicorn.Config(app, port=port, log_level="warning", ws="none"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    until = time.monotonic() + STARTS_WITHIN
    while not server.started and time.monotonic() < until:
        time.sleep(0.02)
    try:
        port = server.servers[0].sockets[0].getsockname()[1]
        yield f"http://127.0.0.1:{port}"
    finally:
        server.should_exit = True
        thread.join(10)


def violations(page) -> list[str]:
    """Return what the accessibility rules find on a page, each as one line."""
    page.evaluate(AXE.read_text("utf-8"))
    found = page.evaluate(
        "rules => axe.run(document, {runOnly: {type: 'tag', values: rules}})", list(RULES)
    )
    return [
        f"{each['id']}: {node['target']} {node['failureSummary'][:160]}"
        for each in found["violations"]
        for node in each["nodes"]
        if each["id"] != SIGN_LETTERS or 'class="element' not in node["html"]
    ]


def is_fault(said) -> bool:
    """Tell whether a message of the browser's console is a fault of ours: not an answer refused."""
    return said.type == "error" and not said.text.startswith("Failed to load resource")


def keep(page, name: str) -> None:
    """Keep a picture of a page for a person to look at."""
    KEPT.mkdir(parents=True, exist_ok=True)
    page.screenshot(path=str(KEPT / f"{name}.png"), full_page=True)
