"""Pages whose examples are run: what a page shows of a command is what the command prints.

So it is with what the workbench answers to a request, in a block marked ``http``.

Run as a program it writes the pages anew; whoever runs it reads them.
"""

from __future__ import annotations

import contextlib
import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

from click.testing import CliRunner
from project_files import ROOT
from starlette.testclient import TestClient

from swapwright.catalogue.read import Catalogue
from swapwright.cli.main import main as swapwright
from swapwright.workbench.app import application
from swapwright.workbench.garage import Garage

PAGES = (ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md")))
FENCED = re.compile(r"^```(?P<language>\w*)\n(?P<text>.*?)^```$", re.MULTILINE | re.DOTALL)
NAMED = re.compile(r"# (?P<path>[\w./-]+/[\w-]+\.(?:toml|py|csv|txt))$")
LEFT_OUT = "..."
TOP, BOTTOM = "\0top", "\0bottom"
ONCE_ONLY = "preparing the time loop"
DIGITS = 6
"""Digits of a number in an answer that a page shows: the last ones differ between machines."""


def named_file(text: str) -> str | None:
    """Return the file that the first line of a block names, if it names one."""
    found = NAMED.match(text.split("\n", 1)[0])
    return found["path"] if found else None


@dataclass
class Terminal:
    """A terminal in the folder a page is read in."""

    status: int = 0

    def printed(self, command: str) -> list[str]:
        """Run one line and return the lines it prints, standard error included."""
        first, *piped = command.split(" | ", 1)
        words = shlex.split(first)
        if words == ["echo", "$?"]:
            return [str(self.status)]
        is_ours = words[0] == "swapwright"
        text = self._swapwright(words[1:]) if is_ours else self._shell(first)
        if piped:
            text = self._shell(piped[0], text)
        return [line for line in text.splitlines() if not line.startswith(ONCE_ONLY)]

    def _swapwright(self, words: list[str]) -> str:
        result = CliRunner().invoke(swapwright, words, env={"SWAPWRIGHT_PARTS": None})
        if result.exception is not None and not isinstance(result.exception, SystemExit):
            raise result.exception
        self.status = result.exit_code
        return result.output

    def _shell(self, line: str, given: str = "") -> str:
        path = os.pathsep.join((str(Path(sys.executable).parent), os.environ["PATH"]))
        done = subprocess.run(
            ["sh", "-c", line],
            input=given,
            env={**os.environ, "PATH": path},
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            text=True,
            check=False,
        )
        self.status = done.returncode
        return done.stdout


def replayed(text: str) -> str:
    """Return a page with its commands run anew, in a new folder that holds the example cars.

    A block that names a file of no place in the project is written there.
    """
    terminal = Terminal()

    def block(found: re.Match[str]) -> str:
        content = found["text"]
        path = named_file(content)
        if path is not None and not (ROOT / path).exists():
            Path(path).parent.mkdir(parents=True, exist_ok=True)
            Path(path).write_text(content, encoding="utf-8")
        if found["language"] == "http":
            return f"```http\n{_answered(content)}```"
        if found["language"] != "console":
            return found[0]
        return f"```console\n{_console(content, terminal)}```"

    with tempfile.TemporaryDirectory() as folder, contextlib.chdir(folder):
        shutil.copytree(ROOT / "examples", "examples")
        return FENCED.sub(block, text)


def _answered(content: str) -> str:
    """Return a block of a request with what the workbench over the examples answers to it now."""
    asked, _, shown = content.partition("\n\n")
    (method, address), body = asked.split("\n")[0].split(), asked.partition("\n")[2]
    browser = TestClient(
        application(Garage(Path("examples"), Catalogue())), base_url="http://127.0.0.1"
    )
    headers = {"content-type": "application/json"} if body else {}
    answer = browser.request(method, address, content=body, headers=headers)
    document = json.loads(answer.text, parse_float=_shortened)
    told = [str(answer.status_code), *json.dumps(document, indent=1).splitlines()]
    lines = [*asked.splitlines(), "", *like(shown.splitlines(), told)]
    return "".join(f"{line}\n" for line in lines)


def _shortened(number: str) -> float:
    return float(f"{float(number):.{DIGITS}g}")


def _console(content: str, terminal: Terminal) -> str:
    """Return a block of commands with what they print now, left out where it was left out."""
    lines = []
    for part in re.split(r"^(?=\$ )", content, flags=re.MULTILINE):
        command, *shown = part.splitlines() or [""]
        if command.startswith("$ "):
            printed = [line.rstrip() for line in terminal.printed(command.removeprefix("$ "))]
            lines += [command, *like(shown, printed)]
        elif part:
            raise ValueError(f"a console block opens with a command, not {command!r}")
    return "".join(f"{line}\n" for line in lines)


def like(shown: list[str], printed: list[str]) -> list[str]:
    """Return what was printed, with ``...`` where the page leaves lines out.

    Where a piece between two of them is not found, all that was printed comes back.
    """
    pieces: list[list[str]] = [[]]
    for line in (TOP, *shown, BOTTOM):
        if line.strip() == LEFT_OUT:
            pieces.append([])
        else:
            pieces[-1].append(line)
    result: list[str] = []
    rest = [TOP, *printed, BOTTOM]
    for piece in pieces:
        found = _found(piece, rest)
        if found is None:
            return printed
        result += [LEFT_OUT, *rest[found]]
        rest = rest[found.stop :]
    return result[2:-1]


def _found(piece: list[str], lines: list[str]) -> slice | None:
    """Return where a piece stands: word for word, or but for its numbers, or by its two ends."""
    for read in (str, _words):
        wanted, there = [read(line) for line in piece], [read(line) for line in lines]
        for start in range(len(there) - len(wanted) + 1):
            if there[start : start + len(wanted)] == wanted:
                return slice(start, start + len(wanted))
    if wanted[0] in there:
        start = there.index(wanted[0])
        if wanted[-1] in there[start:]:
            return slice(start, there.index(wanted[-1], start) + 1)
    return None


def _words(line: str) -> str:
    """Return a line without its numbers, bars and spacing."""
    return " ".join(re.sub(r"\b[0-9a-f]{12,}\b|\d[\d.]*|█+", "#", line).split())


def main() -> None:
    """Write every page anew."""
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        new = replayed(text)
        if new != text:
            page.write_text(new, encoding="utf-8")
            sys.stdout.write(f"{page.relative_to(ROOT)} written anew: read it\n")


if __name__ == "__main__":
    main()
