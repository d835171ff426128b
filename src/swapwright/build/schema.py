"""The JSON Schema of a build file, made from the Field rows, for editors that check as you type."""

from __future__ import annotations

from typing import Any

from swapwright.base.field import Field
from swapwright.base.quantity import KINDS, show
from swapwright.build.load import FORMAT, MAX_ELEMENTS
from swapwright.build.shape import SHAPE, Node, PartPlace, Rows, Section
from swapwright.build.unused import in_words, kept_for

DRAFT = "https://json-schema.org/draft/2020-12/schema"

Schema = dict[str, Any]


def schema() -> Schema:
    """Return the JSON Schema (draft 2020-12) of a whole build file."""
    body = _object(SHAPE, "")
    body["properties"]["format"] = {"description": "format of this file", "const": FORMAT}
    return {
        "$schema": DRAFT,
        "title": "build file",
        "description": "one car, as converted",
        **body,
        "required": ["format"],
    }


def _object(section: Section, path: str) -> Schema:
    return {
        "type": "object",
        "properties": {
            key: _node(node, f"{path}.{key}" if path else key)
            for key, node in section.children.items()
        },
        "additionalProperties": False,
    }


def _node(node: Node, path: str) -> Schema:
    if isinstance(node, Section):
        return _object(node, path)
    if isinstance(node, Rows):
        return {"type": "array", "maxItems": MAX_ELEMENTS, "items": _row(node, f"{path}[]")}
    if isinstance(node, PartPlace):
        return {
            "description": _description(node.field, path),
            "anyOf": [
                {"type": "string", "description": f"the name of a {node.kind} in the catalogue"},
                _object(node.section, path),
            ],
        }
    return {"description": _description(node, path), **_leaf(node), **_default(node)}


def _row(rows: Rows, path: str) -> Schema:
    required = [
        key for key, node in rows.row.children.items() if isinstance(node, Field) and node.required
    ]
    row = _object(rows.row, path)
    return {**row, "required": required} if required else row


def _leaf(row: Field) -> Schema:
    kind, _, inner = row.kind.partition(":")
    if kind == "list":
        items = _quantity(inner, row) if inner in KINDS else _word(inner, row)
        return {"type": "array", "maxItems": MAX_ELEMENTS, "items": items}
    if kind == "curve":
        return _table(("x", "y", "x_unit", "y_unit"))
    if kind == "map":
        return _table(("rows", "columns", "z", "row_unit", "column_unit", "z_unit"))
    if kind == "flag":
        return {"type": "boolean"}
    if kind == "choice":
        return _word(kind, row)
    if kind == "date":
        return {"type": "string", "format": "date"}
    if kind in KINDS:
        return _quantity(kind, row)
    return {"type": "string", "minLength": 1}


def _word(kind: str, row: Field) -> Schema:
    return {"type": "string", "enum": list(row.choices)} if kind == "choice" else {"type": "string"}


def _quantity(kind: str, row: Field) -> Schema:
    """Return a quantity's schema: a text with its unit, or a plain number where the kind has none.

    The bounds of a text cannot be said in a schema; `_description` says them in words.
    """
    text: Schema = {"type": "string", "minLength": 1}
    if not KINDS[kind].is_plain:
        return text
    number: Schema = {"type": "integer" if kind == "count" else "number"}
    if row.low is not None:
        number["minimum"] = row.low
    if row.high is not None:
        number["maximum"] = row.high
    return {"anyOf": [number, text]}


def _table(keys: tuple[str, ...]) -> Schema:
    properties: Schema = {}
    for key in keys:
        if key.endswith("_unit"):
            properties[key] = {"type": "string"}
        elif key == "z":
            lists = {"type": "array", "items": {"type": "number"}}
            properties[key] = {"type": "array", "items": lists}
        else:
            properties[key] = {"type": "array", "items": {"type": "number"}}
    needed = [key for key in keys if not key.endswith("_unit")]
    return {
        "type": "object",
        "properties": properties,
        "additionalProperties": False,
        "required": needed,
    }


def _description(row: Field, path: str) -> str:
    words = [row.label]
    if row.help:
        words.append(row.help)
    if row.kind in KINDS and not KINDS[row.kind].is_plain:
        words.append(f"in {', '.join(KINDS[row.kind].offered)}")
        edges = [
            f"{word} {show(edge, row.kind, digits=4)}"
            for word, edge in (("at least", row.low), ("at most", row.high))
            if edge is not None
        ]
        if edges:
            words.append(" and ".join(edges))
    use = kept_for(path)
    return "; ".join(words) if use is None else f"{'; '.join(words)} {in_words(use)}"


def _default(row: Field) -> Schema:
    if row.default is None:
        return {}
    if isinstance(row.default, str | bool) or KINDS[row.kind].is_plain:
        return {"default": row.default}
    return {"default": show(row.default, row.kind, digits=4)}
