"""The names the assessment asks for in its code are figures it makes or entries a file can have."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from build_paths import build_paths
from example_cars import ALL_CARS, FAST, ROUND_CELLS, assessment_of, car_from, changed, text_of
from project_files import SOURCE, relative

from swapwright.assess.rules.every import RULES
from swapwright.assess.solve import assess

pytestmark = pytest.mark.guard

MODULES = tuple(sorted((SOURCE / "assess").rglob("*.py")))
ASKING = {
    "attempt",
    "get",
    "has",
    "line",
    "look_up",
    "list",
    "make",
    "map",
    "number",
    "numbers",
    "simulated_figure",
    "text",
    "total",
    "value",
    "values",
}
JUDGED = {"value", "limit", "subject"}
WORDS_NOT_NAMES = {"label", "kind", "unit"}
NAME = re.compile(r"[a-z][a-z0-9_]*(\[\d*\])?(\.[a-z0-9_]+(\[\d*\])?)+")


@cache
def figure_ids() -> frozenset[str]:
    """Return every figure made for some car, and those that could not be made for want of input."""
    from_size = changed(text_of("ridgeway"), {"car.rolling_radius": None})
    fast = changed(text_of("parcel-round"), {**FAST, "charging.pilot": "40 %"})
    cells = changed(text_of("ridgeway"), ROUND_CELLS)
    cars = [assessment_of(name) for name in ALL_CARS]
    assessments = [*cars, *(assess(car_from(text)) for text in (from_size, fast, cells))]
    return frozenset(
        figure_id
        for assessment in assessments
        for figure_id in (*assessment.figures, *assessment.missing)
    )


def pattern(node: ast.AST) -> str | None:
    """Return what a text or an f-string may say, as a regular expression, else None."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return re.escape(node.value)
    if isinstance(node, ast.JoinedStr):
        return "".join(
            re.escape(str(part.value)) if isinstance(part, ast.Constant) else ".*"
            for part in node.values
        )
    return None


def asked_for(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Yield (line, pattern) of the names given to the book, the car, or a rule."""
    for node in ast.walk(tree):
        if not isinstance(node, ast.Call):
            continue
        called = (
            node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
        )
        given: list[ast.AST] = []
        if called in ASKING:
            given = list(node.args)
            given += [word.value for word in node.keywords if word.arg not in WORDS_NOT_NAMES]
        elif called == "compare":
            given = [
                word.value for word in node.keywords if word.arg in ("value", "limit", "subject")
            ]
        for each in given:
            for inner in [each, *(ast.walk(each) if isinstance(each, ast.List) else [])]:
                found = pattern(inner)
                if found is not None:
                    yield inner.lineno, found


def is_name(text: str) -> bool:
    plain = text.replace("\\", "").replace(".*", "x")
    return NAME.fullmatch(plain) is not None


@pytest.mark.parametrize("path", MODULES, ids=relative)
def test_a_name_asked_for_is_a_figure_or_a_build_path(path: Path):
    known = build_paths() | figure_ids()
    for line, text in asked_for(ast.parse(path.read_text(encoding="utf-8"))):
        if is_name(text):
            assert any(re.fullmatch(text, name) for name in known), f"line {line}: {text}"


def test_a_rule_speaks_of_a_place_in_the_build_file():
    for rule in RULES:
        assert rule.subject in build_paths(), rule.id
