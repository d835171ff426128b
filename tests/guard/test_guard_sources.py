"""Every number leads to a source, and every source is used by a number."""

from __future__ import annotations

import ast
import pkgutil
import re
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from datetime import date
from functools import lru_cache
from importlib import import_module
from types import ModuleType
from typing import Any

import pytest
from project_files import SOURCE, modules, relative

import swapwright
from swapwright.base.field import Field
from swapwright.base.figure import Value, Working
from swapwright.base.sources import SourceError, all_sources, read_sources, source

pytestmark = pytest.mark.guard

KEYWORDS = {"default_source", "source", "sources"}
ROW = """
[[source]]
id = "iso-1-2016"
title = "Standard reference temperature"
kind = "published"
seen = false
as_of = 2026-11-25
"""


def held(thing: Any, seen: set[int]) -> Iterator[Any]:
    """Yield a thing and whatever its tuples, mappings and dataclasses hold."""
    if id(thing) in seen or isinstance(thing, str | bytes | type | ModuleType):
        return
    seen.add(id(thing))
    yield thing
    if isinstance(thing, Mapping):
        inside = thing.values()
    elif isinstance(thing, tuple | list | frozenset):
        inside = thing
    elif is_dataclass(thing):
        inside = [getattr(thing, each.name) for each in fields(thing)]
    else:
        return
    for each in inside:
        yield from held(each, seen)


def ids_of(thing: Any) -> tuple[str, ...]:
    if isinstance(thing, Field):
        return (thing.default_source,) if thing.default is not None else ()
    if isinstance(thing, Value):
        return (thing.ref,) if thing.origin == "standard" else ()
    if isinstance(thing, Working):
        return thing.sources
    found = getattr(thing, "source", ()) if is_dataclass(thing) else ()
    return (found,) if isinstance(found, str) else tuple(found)


def ids_in_objects() -> Iterator[tuple[str, str]]:
    """Yield (where, id) of what stands in the package's tables."""
    seen: set[int] = set()
    for info in pkgutil.walk_packages(swapwright.__path__, "swapwright."):
        # Neither is a module to import: one runs the command, one runs where a store is opened.
        if info.name.endswith(("__main__", "migrations.env")):
            continue
        for name, thing in vars(import_module(info.name)).items():
            for each in held(thing, seen):
                for source_id in ids_of(each):
                    yield f"{info.name}.{name}", source_id


def strings(node: ast.AST) -> Iterator[str]:
    """Yield the texts of a literal or a tuple of literals."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Tuple | ast.List):
        for each in node.elts:
            yield from strings(each)


def ids_in_text() -> Iterator[tuple[str, str]]:
    """Yield (where, id) of what the code writes out: source arguments and named source ids."""
    for path in modules():
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            written: list[ast.AST] = []
            if isinstance(node, ast.Call):
                written = [each.value for each in node.keywords if each.arg in KEYWORDS]
            elif isinstance(node, ast.Assign):
                named = [each.id for each in node.targets if isinstance(each, ast.Name)]
                if any(re.search(r"(^|_)SOURCES?$", name) for name in named):
                    written = [node.value]
            for each in written:
                for source_id in strings(each):
                    if "/" in source_id:  # a list of source files
                        continue
                    yield f"{relative(path)}:{node.lineno}", source_id


def test_every_source_named_by_a_number_is_there():
    known = all_sources()
    named = [*ids_in_objects(), *ids_in_text()]
    missing = sorted({(source_id, where) for where, source_id in named if source_id not in known})
    assert not missing
    assert len({source_id for _, source_id in named}) > 20


@lru_cache(maxsize=1)
def words_of_the_package() -> frozenset[str]:
    """Return every word of the package's code and parts, without the source rows."""
    rows = SOURCE / "base" / "sources"
    found: set[str] = set()
    for path in SOURCE.rglob("*"):
        if path.suffix in {".py", ".toml"} and path.parent != rows:
            found.update(re.findall(r"[a-z0-9][a-z0-9.-]*[a-z0-9]", path.read_text("utf-8")))
    return frozenset(found)


def test_every_source_is_cited_by_something():
    assert not sorted(set(all_sources()) - words_of_the_package())


def test_every_source_can_be_found_again():
    for row in all_sources().values():
        assert re.fullmatch(r"[a-z0-9]+(-[a-z0-9.]+)*", row.id)
        assert row.title, row.id
        assert row.as_of <= date(2100, 1, 1), row.id
        if row.kind in {"published", "textbook"}:
            assert row.clause, f"{row.id}: which clause, chapter or equation?"
            assert row.edition, f"{row.id}: which edition?"
        if row.kind in {"assumed", "common-practice"}:
            assert not row.seen, f"{row.id}: practice has no text to have been seen"


def test_a_row_is_read_with_all_it_says():
    row = read_sources([("a.toml", ROW)])["iso-1-2016"]
    assert (row.title, row.kind, row.seen) == ("Standard reference temperature", "published", False)
    assert row.as_of == date(2026, 11, 25)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (ROW + ROW, "'iso-1-2016' stands in b.toml already"),
        (ROW.replace("published", "hearsay"), "'hearsay' is not a kind of source"),
        (ROW.replace("seen = false", ""), "missing 1 required"),
        (ROW + 'colour = "red"', "unexpected keyword argument 'colour'"),
    ],
    ids=["twice", "kind", "key missing", "key unknown"],
)
def test_a_faulty_row_names_its_file(text, message):
    with pytest.raises(SourceError, match=f"^b.toml: .*{message}"):
        read_sources([("b.toml", text)])


def test_asking_for_a_source_that_is_not_there_names_it():
    with pytest.raises(SourceError, match="there is no source 'iso-0'"):
        source("iso-0")
