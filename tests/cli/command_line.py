"""Running the command in this process, and the cars to run it on."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from click.testing import CliRunner, Result

from swapwright.cli.main import main

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = sorted((ROOT / "examples").glob("*.toml"))
RIDGEWAY = str(ROOT / "examples" / "ridgeway.toml")
FAULTY = str(ROOT / "examples" / "fault-finder.toml")


def run(*arguments: str, typed: str | None = None) -> Result:
    """Run the command; an exception that is no exit of ours fails the test."""
    result = CliRunner().invoke(main, list(arguments), input=typed)
    if result.exception is not None and not isinstance(result.exception, SystemExit):
        raise result.exception
    return result


@lru_cache(maxsize=32)
def once(*arguments: str) -> Result:
    """Run a command that reads only, once for all tests."""
    return run(*arguments)


def complaint(result: Result) -> str:
    """Return the one line a bad input is told in."""
    assert result.exit_code == 2
    assert result.stdout == ""
    lines = result.stderr.splitlines()
    assert len(lines) == 1, lines
    return lines[0]
