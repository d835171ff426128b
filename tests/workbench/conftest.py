from __future__ import annotations

import re
import shutil
from contextlib import contextmanager
from datetime import date
from pathlib import Path

import pytest
from browser import CHROMIUM, DESKTOP, is_fault, serving
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TODAY = date(2026, 11, 27)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A folder of cars of its own, with two of the example cars."""
    for name in ("ridgeway", "fault-finder"):
        shutil.copy(EXAMPLES / f"{name}.toml", tmp_path / f"{name}.toml")
    return tmp_path


@pytest.fixture
def client(folder: Path) -> TestClient:
    """A browser without script at the workbench over that folder."""
    app = application(Garage(folder, Catalogue(), lambda: TODAY))
    return TestClient(app, base_url="http://127.0.0.1")


def token_of(html: str) -> str:
    """Return the token a page's forms carry."""
    found = re.search(r'name="token" value="([^"]+)"', html)
    assert found is not None
    return found[1]


@pytest.fixture(scope="session")
def chromium():
    """The browser, started once; skipped where there is none."""
    if not CHROMIUM.exists():
        pytest.skip(f"no browser: {CHROMIUM} is not there (CHROMIUM names another)")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=str(CHROMIUM),
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        yield browser
        browser.close()


@pytest.fixture
def address(folder: Path):
    """The address of the workbench over a folder of cars of its own."""
    with serving(folder) as found:
        yield found


@pytest.fixture
def visit(chromium, address: str):
    """Open an address of the workbench in a fresh browser; faults of its script fail the test."""
    with visiting(chromium, address) as found:
        yield found


@contextmanager
def visiting(chromium, address: str):
    """Give what opens an address in a fresh browser; faults of its script fail the test."""
    opened, faults = [], []

    def open_page(path: str = "/", size=DESKTOP, **options):
        context = chromium.new_context(viewport={"width": size[0], "height": size[1]}, **options)
        opened.append(context)
        page = context.new_page()
        page.set_default_timeout(15_000)
        page.on("pageerror", lambda error: faults.append(str(error)))
        page.on("console", lambda said: faults.append(said.text) if is_fault(said) else None)
        page.goto(address + path)
        return page

    yield open_page
    for context in opened:
        context.close()
    assert faults == []
