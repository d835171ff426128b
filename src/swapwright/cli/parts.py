"""``swapwright parts``: what the catalogue has."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from swapwright.base.display import PROFILES
from swapwright.cli.console import Console
from swapwright.cli.options import as_json, parts_folders

if TYPE_CHECKING:
    from collections.abc import Sequence

    from swapwright.catalogue.read import Catalogue, Part


@click.command(short_help="List the parts of the catalogue.")
@click.argument("kind", required=False)
@click.argument("name", required=False)
@click.option("--chemistry", help="Cells and modules of this chemistry only.")
@click.option(
    "--where",
    "tests",
    multiple=True,
    metavar="TEST",
    help="Only parts that pass, as 'peak_power >= 80 kW'; may be given more than once.",
)
@click.option("--units", type=click.Choice(PROFILES), default="metric", help="Units to show.")
@parts_folders
@as_json
def parts(
    kind: str | None,
    name: str | None,
    chemistry: str | None,
    tests: tuple[str, ...],
    units: str,
    folders: tuple[Path, ...],
    is_json: bool,
) -> None:
    """List the parts of the catalogue, those of one KIND, or one part by NAME in full."""
    from swapwright.catalogue.read import Catalogue
    from swapwright.jobs.parts import get_part, kinds, list_parts, part_document

    catalogue = Catalogue(folders)
    if kind is None:
        if is_json:
            names = {each: list(catalogue.names(each)) for each in kinds()}
            click.echo(json.dumps(names, indent=1))
        else:
            _write_kinds(catalogue, kinds())
        return
    if name is not None:
        part = get_part(catalogue, kind, name)
        if is_json:
            click.echo(json.dumps(part_document(part), indent=1, allow_nan=False))
        else:
            _write_part(part, units)
        return
    found = list_parts(catalogue, kind, tests, chemistry or "")
    if is_json:
        documents = [part_document(part) for part in found]
        click.echo(json.dumps(documents, indent=1, allow_nan=False))
    else:
        _write_list(found, kind, units)


def _write_kinds(catalogue: Catalogue, kinds: Sequence[str]) -> None:
    console = Console()
    for kind in kinds:
        names = catalogue.names(kind)
        console.wrapped(", ".join(names) or "none", indent=12, first=f"{kind:<12}")


def _write_list(parts: Sequence[Part], kind: str, profile: str) -> None:
    from swapwright.jobs.parts import HEADS, LISTED, cell_text

    console = Console()
    if not parts:
        console.line(f"no {kind} passes")
        return
    keys = LISTED[kind]
    rows = [("name", *(HEADS.get(key, key) for key in keys))]
    rows += [(part.name, *(cell_text(part, key, profile) for key in keys)) for part in parts]
    console.columns(rows, indent=0)


def _write_part(part: Part, profile: str) -> None:
    from swapwright.jobs.parts import entries

    console = Console()
    console.line(f"{part.kind} {part.name}", bold=True)
    console.line(part.file)
    told = entries(part, profile)
    for entry in told:
        if not entry.table:
            first = f"  {entry.key:<34}"
            console.wrapped(f"{entry.text}  ({entry.label})", indent=len(first), first=first)
    for entry in told:
        if entry.table:
            console.heading(f"{entry.key}: {entry.label}")
            console.columns(entry.table)
