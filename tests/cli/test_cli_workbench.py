"""The command that opens the workbench, as a person starts and stops it."""

from __future__ import annotations

import os
import re
import signal
import socket
import subprocess
import sys
import urllib.request
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from swapwright.base.errors import InputError
from swapwright.jobs.folder import car_folder
from swapwright.workbench import serve

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
STOPS_WITHIN = 60

pytestmark = pytest.mark.arithmetic


@contextmanager
def taken_port():
    """A port somebody else listens on."""
    with closing(socket.socket()) as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        yield other.getsockname()[1]


@contextmanager
def started(folder: Path, *options: str):
    """The command as a process of its own; ended at the latest with the test."""
    process = subprocess.Popen(
        [sys.executable, "-m", "swapwright.cli", "workbench", "my-cars", *options],
        cwd=folder,
        env={**os.environ, "DISPLAY": "", "WAYLAND_DISPLAY": "", "PYTHONUNBUFFERED": "1"},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    try:
        yield process
    finally:
        process.kill()
        process.communicate()


def printed_address(process) -> str:
    """Return the address the command prints, once it does."""
    for line in process.stdout:
        found = re.search(r"http://127\.0\.0\.1:\d+/", line)
        if found:
            return found[0]
    raise AssertionError(process.stderr.read())


def stopped(process) -> tuple[int, str]:
    """Stop the command as Ctrl-C does; return its exit status and what it said of trouble."""
    process.send_signal(signal.SIGINT)
    _, said = process.communicate(timeout=STOPS_WITHIN)
    return process.returncode, said


@pytest.mark.parametrize("options", [(), ("--no-browser",)], ids=["no display", "no browser"])
def test_on_a_busy_port_it_takes_another_prints_it_answers_there_and_stops(tmp_path, options):
    with taken_port() as port:
        given = ("--port", str(port), "--examples", str(EXAMPLES), *options)
        with started(tmp_path, *given) as process:
            address = printed_address(process)
            assert f":{port}/" not in address
            with urllib.request.urlopen(address, timeout=STOPS_WITHIN) as answer:
                page = answer.read().decode()
            status, said = stopped(process)
    assert "my-cars" in page
    assert status == 0
    assert "Traceback" not in said
    assert "Aborted" not in said
    copied = sorted(path.name for path in (tmp_path / "my-cars").iterdir())
    assert copied == sorted(path.name for path in EXAMPLES.glob("*.toml"))


def test_a_request_under_way_is_finished_before_it_stops(tmp_path):
    with started(tmp_path, "--no-browser", "--examples", str(EXAMPLES)) as process:
        address = printed_address(process)
        host, port = address.removeprefix("http://").strip("/").split(":")
        with socket.create_connection((host, int(port)), timeout=STOPS_WITHIN) as asking:
            request = f"GET /cars/ridgeway/drive HTTP/1.1\r\nHost: {host}:{port}\r\n\r\n"
            asking.sendall(request.encode())
            first = asking.recv(1)
            process.send_signal(signal.SIGINT)
            answer = first
            while piece := asking.recv(65536):
                answer += piece
        process.communicate(timeout=STOPS_WITHIN)
    assert answer.startswith(b"HTTP/1.1 200")
    assert b"</html>" in answer
    assert process.returncode == 0


def test_stopped_at_once_it_ends_without_a_word(tmp_path):
    with started(tmp_path, "--no-browser") as process:
        assert "with no car in it yet" in process.stdout.readline()
        status, said = stopped(process)
    assert status == 0
    assert "Traceback" not in said
    assert "Aborted" not in said


def test_a_port_that_is_taken_is_passed_over_and_no_port_is_reached_from_outside():
    with taken_port() as port, closing(serve.free_socket(port)) as found:
        address, chosen = found.getsockname()
    assert chosen != port
    assert address == "127.0.0.1"


def test_where_the_last_port_of_all_is_taken_any_is(monkeypatch):
    with closing(serve.free_socket(65535)) as first, closing(serve.free_socket(65535)) as second:
        assert first.getsockname()[1] != second.getsockname()[1]


def test_without_a_display_no_browser_is_opened_that_would_take_the_terminal(monkeypatch):
    opened = []
    monkeypatch.setattr(serve.webbrowser, "open", lambda address: opened.append(address) or True)
    monkeypatch.setattr(serve.sys, "platform", "linux")
    for name in ("DISPLAY", "WAYLAND_DISPLAY"):
        monkeypatch.delenv(name, raising=False)
    assert not serve.open_in_browser("http://127.0.0.1:1/")
    assert not opened
    monkeypatch.setenv("DISPLAY", ":0")
    assert serve.open_in_browser("http://127.0.0.1:1/")


def test_a_browser_that_cannot_be_started_is_no_fault(monkeypatch):
    def refuse(address: str) -> bool:
        raise serve.webbrowser.Error("could not locate runnable browser")

    monkeypatch.setattr(serve.webbrowser, "open", refuse)
    monkeypatch.setenv("DISPLAY", ":0")
    assert not serve.open_in_browser("http://127.0.0.1:1/")


def test_a_folder_that_is_there_is_left_as_it_is(tmp_path):
    (tmp_path / "mine.toml").write_text("format = 1\n", encoding="utf-8")
    found = car_folder(tmp_path, EXAMPLES)
    assert (found.is_new, found.copied) == (False, ())
    assert [path.name for path in tmp_path.iterdir()] == ["mine.toml"]


def test_a_new_folder_has_copies_that_can_be_changed_without_touching_the_examples(tmp_path):
    found = car_folder(tmp_path / "cars", EXAMPLES)
    assert found.is_new
    assert "ridgeway" in found.copied
    copy, original = (folder / "ridgeway.toml" for folder in (tmp_path / "cars", EXAMPLES))
    assert copy.read_bytes() == original.read_bytes()
    assert not copy.samefile(original)


@pytest.mark.parametrize(
    ("path", "examples", "message"),
    [
        ("a-file", None, "not a folder"),
        ("none/cars", None, "no folder to make it in"),
        ("cars", "none", "no such folder of examples"),
    ],
)
def test_a_folder_that_cannot_be_had_is_told_and_nothing_is_made(tmp_path, path, examples, message):
    (tmp_path / "a-file").write_text("", encoding="utf-8")
    with pytest.raises(InputError, match=message):
        car_folder(tmp_path / path, None if examples is None else tmp_path / examples)
    assert [each.name for each in tmp_path.iterdir()] == ["a-file"]
