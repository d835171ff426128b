"""The files a guard looks at: what would be committed, without what git ignores."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
SOURCE = ROOT / "src" / "swapwright"

_FOLDERS = (".ci", "bench", "docs", "examples", "src", "tests")
_TEXT = {"", ".csv", ".html", ".j2", ".json", ".md", ".py", ".svg", ".toml", ".txt", ".typ", ".yml"}
_SKIPPED = {"__pycache__", "build-output"}


@lru_cache(maxsize=1)
def text_files() -> tuple[Path, ...]:
    """Return every text file of the project, sorted."""
    found = [path for path in ROOT.iterdir() if path.is_file()]
    for folder in _FOLDERS:
        found += [path for path in (ROOT / folder).rglob("*") if path.is_file()]
    return tuple(
        sorted(path for path in found if path.suffix in _TEXT and not _SKIPPED & set(path.parts))
    )


def modules() -> tuple[Path, ...]:
    """Return every Python module of the package, sorted."""
    return tuple(sorted(SOURCE.rglob("*.py")))


def relative(path: Path) -> str:
    """Return a path as seen from the project's root."""
    return path.relative_to(ROOT).as_posix()
