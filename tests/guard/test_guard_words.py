"""One word for one thing, no word that promises, and nothing that belongs to one workplace."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from project_files import ROOT, SOURCE, relative, text_files

pytestmark = pytest.mark.guard

VOCABULARY = ROOT / "docs" / "vocabulary.md"

PROMISES = (
    r"(?i)\b(?:safe|safely|safer|certified|certify|guaranteed|guarantee|approved|compliant)\b"
)
"""What the tool never says of a car; these are the words of people who have seen it."""

ALLOWED_PROMISES = (
    ("docs/vocabulary.md", "never says"),
    ("README.md", "never says"),
    ("CONTRIBUTING.md", "never says"),
)
"""(file, words that stand in the line): where a promise is named in order to refuse it."""


def _spelled(*pieces: str) -> str:
    return "".join(pieces)


NOT_OURS = {
    "a machine's folder": r"(?<![\w.~-])/(?:" + _spelled("wo", "rk") + r"|tmp|root|opt|home)/",
    "a registry's host": r"(?i)\b(?:"
    + r"|".join((_spelled("py", "pi"), _spelled("python", "hosted"), _spelled("npm", "js")))
    + r")\.(?:org|com)\b|\bdeb\."
    + _spelled("deb", "ian"),
    "how it was written": r"(?i)\b(?:"
    + "|".join(
        (
            _spelled("ll", "ms?"),
            _spelled("chat", "bots?"),
            _spelled("trans", "cripts?"),
            _spelled("language ", "models?"),
            _spelled("seed ", "documents?"),
            _spelled("the ", "brief"),
            _spelled("sub", "agents?"),
            _spelled("ai ", "(?:sessions?|tools?|assistants?)"),
        )
    )
    + r")\b",
    "work left open": r"\b(?:" + "|".join((_spelled("TO", "DO"), _spelled("FIX", "ME"))) + r")\b",
}


def spoken(path: Path) -> Iterator[tuple[int, str]]:
    """Yield (line, text) of what a file says to a person: its literals, or all of its lines."""
    text = path.read_text(encoding="utf-8")
    if path.suffix != ".py":
        yield from enumerate(text.splitlines(), start=1)
        return
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            yield node.lineno, node.value


def spoken_files() -> list[Path]:
    shown = {".html", ".j2", ".md", ".py", ".svg", ".toml", ".typ"}
    return [
        path
        for path in text_files()
        if path.suffix in shown and path.relative_to(ROOT).parts[0] != "tests"
    ]


@cache
def banned_synonyms() -> dict[str, str]:
    """Return each banned synonym and the word to use, from the table of the vocabulary page."""
    found = {}
    for line in VOCABULARY.read_text(encoding="utf-8").splitlines():
        cells = [cell.strip() for cell in line.strip().strip("|").split("|")]
        if line.startswith("| **") and len(cells) == 3:
            for banned in filter(None, (each.strip() for each in cells[2].split(","))):
                found[banned] = cells[0].strip("*")
    return found


every_spoken_file = pytest.mark.parametrize("path", spoken_files(), ids=relative)


@every_spoken_file
def test_nothing_is_promised(path: Path):
    if not re.search(PROMISES, path.read_text(encoding="utf-8")):
        return
    allowed = [words for file, words in ALLOWED_PROMISES if file == relative(path)]
    for line, text in spoken(path):
        found = re.search(PROMISES, text)
        assert not found or any(words in text for words in allowed), f"{line}: {found[0]}"


@every_spoken_file
def test_a_thing_goes_by_its_one_name(path: Path):
    if path == VOCABULARY:
        return
    words = banned_synonyms()
    pattern = re.compile(rf"\b(?:{'|'.join(map(re.escape, words))})\b", re.IGNORECASE)
    for line, text in spoken(path):
        found = pattern.search(text)
        assert not found, f"line {line}: {found[0]!r}, say {words[found[0].lower()]!r}"


def test_the_vocabulary_has_banned_synonyms_to_look_for():
    synonyms = banned_synonyms()
    assert len(synonyms) >= 20
    assert synonyms["pre-charge"] == "precharge"


@pytest.mark.parametrize("path", text_files(), ids=relative)
def test_a_file_says_nothing_of_where_or_how_it_was_written(path: Path):
    text = path.read_text(encoding="utf-8")
    for what, pattern in NOT_OURS.items():
        found = re.search(pattern, text)
        assert not found, f"line {text[: found.start()].count(chr(10)) + 1}: {found[0]} is {what}"


@pytest.mark.parametrize(
    ("text", "what"),
    [
        (_spelled("see /wo", "rk/main"), "a machine's folder"),
        (_spelled("from py", "pi.org"), "a registry's host"),
        (_spelled("as the trans", "cript says"), "how it was written"),
        (_spelled("# TO", "DO later"), "work left open"),
    ],
)
def test_what_is_not_ours_is_found(text: str, what: str):
    assert re.search(NOT_OURS[what], text)


def test_no_part_or_example_hides_outside_the_guarded_folders():
    shipped = set(SOURCE.rglob("*.toml")) | set((ROOT / "docs").rglob("*.md"))
    assert shipped <= set(text_files())
