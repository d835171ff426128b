"""One raw value of a TOML file turned into a typed one by its Field."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import date, datetime
from itertools import pairwise

from swapwright.base.errors import UnitError, WorkingError
from swapwright.base.field import Field
from swapwright.base.figure import Origin, Value
from swapwright.base.kinds import squash
from swapwright.base.meant import meant, names_another
from swapwright.base.nearest import nearest
from swapwright.base.quantity import KINDS, Kind, Unit, parse, show, unit_of
from swapwright.base.table import Line, Map

Read = Value | str | bool | tuple[Value, ...] | tuple[str, ...] | Line | Map | date

LONGEST_TEXT = 2000
LONGEST_NAME = 100
LONGEST_LIST = 500
LONGEST_AXIS = 1000

_FLAGS = {
    **dict.fromkeys(("yes", "true", "on", "1", "y"), "true"),
    **dict.fromkeys(("no", "false", "off", "0", "n"), "false"),
}
_THOUSANDS = re.compile(r"\d{1,3}(?:\.\d{3})+")
_FIRST_NUMBER = re.compile(r"\d+(?:\.\d+)?")
_DAY_FIRST = re.compile(r"(\d{1,2})[./ ](\d{1,2})[./ ](\d{4})")
_LINE_KEYS = ("x", "y", "x_unit", "y_unit")
_MAP_KEYS = ("rows", "columns", "z", "row_unit", "column_unit", "z_unit")


def read(field: Field, raw: object, *, ref: str, origin: Origin) -> Read:
    """Return the typed value a field's raw TOML value says.

    ``ref`` is where it came from (a build path, a part) and ``origin`` how; both are kept in the
    values. Raises UnitError when the raw value does not fit the field's kind, range or choices,
    WorkingError when the field itself is of a kind that cannot be read here (a part).
    """
    kind, _, inner = field.kind.partition(":")
    if kind == "list":
        return _list(field, inner, raw, ref, origin)
    if kind == "curve":
        return _line(field, inner.split(","), raw)
    if kind == "map":
        return _map(field, inner.split(","), raw)
    if kind in KINDS:
        return _value(field, KINDS[kind], raw, ref, origin)
    return _plain(field, kind, raw)


def _plain(field: Field, kind: str, raw: object) -> str | bool | date:
    if kind == "flag":
        if not isinstance(raw, bool):
            raise UnitError(
                f"{_said(raw)} is neither true nor false",
                "true or false, without quotes",
                _FLAGS.get(str(raw).strip().casefold(), ""),
            )
        return raw
    if kind == "date":
        return _date(raw)
    if kind == "text":
        return _text(raw, LONGEST_TEXT)
    if kind == "name":
        return _name(raw)
    if kind == "choice":
        return _choice(field, raw)
    raise WorkingError(f"{field.path}: a {field.kind!r} is not read from one value")


def _text(raw: object, longest: int) -> str:
    if not isinstance(raw, str):
        is_one = isinstance(raw, int | float | date) and not isinstance(raw, bool)
        likely = f'"{raw}"' if is_one else ""
        raise UnitError(f"{_said(raw)} is not a text", 'a text in quotes: "..."', likely)
    if not raw.strip():
        raise UnitError("nothing is written here", "a text")
    if len(raw) > longest:
        raise UnitError(f"a text of {len(raw)} characters is too long", f"at most {longest}")
    if any((ord(sign) < 32 and sign not in "\n\t") or ord(sign) == 127 for sign in raw):
        raise UnitError("the text holds a control character", "letters, digits and signs")
    return raw


def _name(raw: object) -> str:
    name = _text(raw, LONGEST_NAME)
    if any(sign in name for sign in "/\\\n\t") or name.strip(". ") == "":
        raise UnitError(f"{name!r} cannot be a name", "a name without / and \\")
    return name


def _choice(field: Field, raw: object) -> str:
    allowed = " or ".join(field.choices)
    if not isinstance(raw, str):
        message = f"{_said(raw)} is not one of the words this takes"
        raise UnitError(message, f"{allowed}, in quotes", nearest(str(raw), field.choices))
    text = _text(raw, LONGEST_TEXT)
    if text not in field.choices:
        raise UnitError(f"{text!r} is no choice here", allowed, nearest(text, field.choices))
    return text


def _date(raw: object) -> date:
    if isinstance(raw, date) and not isinstance(raw, datetime):
        return raw
    try:
        return date.fromisoformat(raw if isinstance(raw, str) else "")
    except ValueError:
        allowed = "a date: year-month-day, such as 2026-09-14"
        raise UnitError(f"{_said(raw)} is not a date", allowed, _day_meant(raw)) from None


def _day_meant(raw: object) -> str:
    """Return the date a text says in another order, empty where day and month may be either."""
    match = _DAY_FIRST.fullmatch(raw.strip()) if isinstance(raw, str) else None
    if match is None:
        return ""
    first, second, year = (int(part) for part in match.groups())
    is_day_first = "." in match[0] or first > 12
    if not is_day_first and second <= 12 and first != second:
        return ""
    day, month = (first, second) if is_day_first else (second, first)
    try:
        return date(year, month, day).isoformat()
    except ValueError:
        return ""


def _value(field: Field, kind: Kind, raw: object, ref: str, origin: Origin) -> Value:
    if isinstance(raw, str):
        if kind.name == "money" and _THOUSANDS.fullmatch(raw.strip()):
            message = "a point stands before the decimals here, not between thousands"
            raise UnitError(message, f"{kind.label}: a plain number", raw.strip().replace(".", ""))
        try:
            quantity = parse(raw, kind.name)
        except UnitError as error:
            raise _with_fitting_unit(error, field, kind, raw) from None
        low = quantity.si if quantity.low is None else quantity.low
        high = quantity.si if quantity.high is None else quantity.high
        try:
            _in_range(field, kind, low, high)
        except UnitError as error:
            likely = _most_likely(error, field, kind, raw)
            raise UnitError(error.message, error.allowed, likely) from None
        return Value(quantity.si, kind.unit, origin, ref, quantity.low, quantity.high)
    how = "as a plain number" if kind.is_plain else "in quotes, with its unit"
    number = _number(raw, f"{kind.label} {how}")
    if not kind.is_plain:
        example = _with_unit(field, kind, number, str(raw))
        allowed = f"{kind.label} in quotes: {', '.join(kind.offered)}"
        raise UnitError(f"{kind.label} needs a unit", allowed, example)
    if kind.name == "count" and number != int(number):
        raise UnitError(f"{raw} is not a whole number", "a whole number")
    try:
        _in_range(field, kind, number, number)
    except UnitError as error:
        likely = _with_unit(field, kind, number, str(raw))
        raise UnitError(error.message, error.allowed, likely) from None
    return Value(number, kind.unit, origin, ref)


def _with_fitting_unit(error: UnitError, field: Field, kind: Kind, raw: str) -> UnitError:
    """Return an error with what was most likely meant, or an example, that the field would take."""
    likely = _most_likely(error, field, kind, raw)
    if likely or kind.is_plain:
        return UnitError(error.message, error.allowed, likely)
    example = _example(field, kind, raw)
    return UnitError(
        error.message, f"{error.allowed}, such as {example}" if example else error.allowed
    )


def _most_likely(error: UnitError, field: Field, kind: Kind, raw: str) -> str:
    with suppress(ValueError):
        return _with_unit(field, kind, float(raw), raw.strip())
    with suppress(UnitError):
        if _fits(field, kind, parse(error.nearest, kind.name).si):
            return error.nearest
    units = [each for each in error.nearest.split(" or ") if squash(each) in kind.units]
    unit = units[0] if len(units) == 1 else ""
    likely = meant(raw, kind, unit, lambda si: _fits(field, kind, si))
    return likely or ("" if len(units) < 2 else error.nearest)


def _example(field: Field, kind: Kind, raw: str) -> str:
    """Return the number that was written with a unit that fits, else a value amid the range."""
    number = None if names_another(raw, kind) else _FIRST_NUMBER.search(raw)
    digits = number[0] if number else "10" if field.usual else ""
    likely = _with_unit(field, kind, float(digits), digits) if digits else ""
    if likely or not field.high or field.high < 0.0:
        return likely
    least = field.low if field.low and field.low > 0.0 else 1e-4 * field.high
    return _shown(math.sqrt(least * field.high), kind, digits=2)


def _fits(field: Field, kind: Kind, si: float) -> bool:
    try:
        _in_range(field, kind, si, si)
    except (UnitError, ValueError):
        return False
    return True


def _with_unit(field: Field, kind: Kind, number: float, written: str) -> str:
    """Return a number with the unit that brings it into the field's range; empty if none does.

    The units usual at this field come first, all of them; else the first of its kind that fits.
    """
    fitting = [
        f"{written} {spelling}"
        for spelling in (*field.usual, *filter(None, kind.offered))
        if _fits(field, kind, unit_of(spelling, kind.name).to_si(number))
    ]
    usual = [text for text in fitting if text.removeprefix(f"{written} ") in field.usual]
    return " or ".join(dict.fromkeys(usual)) or (fitting[0] if fitting else "")


def _in_range(field: Field, kind: Kind, low: float, high: float) -> None:
    """Raise UnitError unless low..high lies inside the field's bounds and the kind's."""
    least = kind.low if field.low is None else max(kind.low, field.low)
    most = kind.high if field.high is None else min(kind.high, field.high)
    if least <= low and high <= most:
        return
    below = low < least
    edges = [
        f"{word} {show(edge, kind.name, digits=4)}"
        for word, edge in (("at least", least), ("at most", most))
        if math.isfinite(edge)
    ]
    raise UnitError(
        f"{_shown(low if below else high, kind)} is too {'low' if below else 'high'}",
        " and ".join(edges),
    )


def _shown(si: float, kind: Kind, *, digits: int = 4) -> str:
    """Return a number as people read it, or bare where it is too large for its usual unit."""
    try:
        return show(si, kind.name, digits=digits)
    except ValueError:
        return f"{si:.3e}"


def _list(
    field: Field, inner: str, raw: object, ref: str, origin: Origin
) -> tuple[Value, ...] | tuple[str, ...]:
    if not isinstance(raw, list | tuple):
        is_text = isinstance(raw, str) and 0 < len(raw) <= LONGEST_NAME
        items = ", ".join(f'"{item.strip()}"' for item in str(raw).split(","))
        likely = f"[{items}]" if is_text and '"' not in str(raw) else ""
        raise UnitError(f"{_said(raw)} is not a list", "a list: [ ... , ... ]", likely)
    if len(raw) > LONGEST_LIST:
        raise UnitError(f"a list of {len(raw)} is too long", f"at most {LONGEST_LIST}")
    kind = KINDS.get(inner)
    values: list[Value] = []
    texts: list[str] = []
    for index, item in enumerate(raw):
        try:
            if kind is None:
                texts.append(str(_plain(field, inner, item)))
            else:
                values.append(_value(field, kind, item, f"{ref}[{index}]", origin))
        except UnitError as error:
            raise UnitError(f"item {index + 1}: {error}", error.allowed, error.nearest) from None
    return tuple(texts) if kind is None else tuple(values)


def _line(field: Field, kinds: list[str], raw: object) -> Line:
    table = _table(raw, _LINE_KEYS, ("x", "y"))
    x_kind, y_kind = (KINDS[name] for name in kinds)
    x = _axis(table, "x", "x_unit", x_kind)
    y = _numbers(table["y"], "y", _unit(table, "y_unit", y_kind), y_kind, field)
    if len(y) != len(x):
        raise UnitError(f"x has {len(x)} points and y has {len(y)}", "as many y as x")
    if len(x) < 2:
        raise UnitError("one point makes no curve", "two points or more")
    return Line(x, y, x_kind.unit, y_kind.unit)


def _map(field: Field, kinds: list[str], raw: object) -> Map:
    table = _table(raw, _MAP_KEYS, ("rows", "columns", "z"))
    row_kind, column_kind, z_kind = (KINDS[name] for name in kinds)
    rows = _axis(table, "rows", "row_unit", row_kind)
    columns = _axis(table, "columns", "column_unit", column_kind)
    unit = _unit(table, "z_unit", z_kind)
    given = table["z"]
    if not isinstance(given, list | tuple) or len(given) != len(rows):
        raise UnitError("z does not have one line for each of rows", f"{len(rows)} lists in z")
    z = tuple(
        _numbers(line, f"z line {index}", unit, z_kind, field)
        for index, line in enumerate(given, start=1)
    )
    for index, line in enumerate(z, start=1):
        if len(line) != len(columns):
            raise UnitError(
                f"z line {index} has {len(line)} numbers and columns has {len(columns)}",
                "as many numbers in each line of z as in columns",
            )
    return Map(rows, columns, z, row_kind.unit, column_kind.unit, z_kind.unit)


def _table(raw: object, keys: tuple[str, ...], needed: tuple[str, ...]) -> Mapping[str, object]:
    allowed = ", ".join(keys)
    if not isinstance(raw, Mapping):
        raise UnitError(f"{_said(raw)} is not a table", f"a table with {allowed}")
    for key in raw:
        if key not in keys:
            raise UnitError(
                f"{str(key)!r} is no part of this table", allowed, nearest(str(key), keys)
            )
    for key in needed:
        if key not in raw:
            raise UnitError(f"the table has no {key}", allowed)
    return raw


def _axis(table: Mapping[str, object], key: str, unit_key: str, kind: Kind) -> tuple[float, ...]:
    axis = _numbers(table[key], key, _unit(table, unit_key, kind), kind, None)
    for before, after in pairwise(axis):
        if not after > before:
            raise UnitError(f"{key} does not rise from each point to the next", "rising numbers")
    return axis


def _unit(table: Mapping[str, object], key: str, kind: Kind) -> Unit:
    spelling = table.get(key, "")
    if not isinstance(spelling, str):
        raise UnitError(f"{key}: {_said(spelling)} is not a unit", "a unit in quotes")
    if kind.is_plain and spelling.strip() == "1":
        spelling = ""
    try:
        return unit_of(spelling, kind.name)
    except UnitError as error:
        raise UnitError(f"{key}: {error}", error.allowed, error.nearest) from None


def _numbers(
    raw: object, key: str, unit: Unit, kind: Kind, field: Field | None
) -> tuple[float, ...]:
    """Return one row of a table in SI; the field's bounds hold for its results, not its axes."""
    if not isinstance(raw, list | tuple) or not raw:
        raise UnitError(f"{key} is not a list of numbers", "plain numbers, the unit given once")
    if len(raw) > LONGEST_AXIS:
        raise UnitError(f"{key} has {len(raw)} numbers", f"at most {LONGEST_AXIS}")
    bounds = field if field is not None else Field(key, kind.name, key)
    numbers: list[float] = []
    for index, item in enumerate(raw, start=1):
        try:
            si = unit.to_si(_number(item, "a plain number, the unit given once"))
            if not math.isfinite(si):
                raise UnitError(f"{item} is not a finite number", "a plain number")
            _in_range(bounds, kind, si, si)
        except UnitError as error:
            raise UnitError(
                f"{key} number {index}: {error}", error.allowed, error.nearest
            ) from None
        numbers.append(si)
    return tuple(numbers)


def _number(raw: object, allowed: str) -> float:
    """Return a raw TOML number as a float; a flag is no number, nor is nan or inf."""
    if isinstance(raw, bool) or not isinstance(raw, int | float):
        raise UnitError(f"{_said(raw)} is not a number", allowed)
    try:
        number = float(raw)
    except OverflowError:
        number = math.inf
    if not math.isfinite(number):
        raise UnitError("the number is not finite", allowed)
    return number


def _said(raw: object) -> str:
    """Return what was written, short enough for a message."""
    if raw is None:
        return "nothing"
    if isinstance(raw, bool):
        return str(raw).lower()
    if isinstance(raw, Mapping):
        return "a table"
    if isinstance(raw, list | tuple):
        return "a list"
    text = raw.isoformat() if isinstance(raw, date) else repr(raw)
    return text if len(text) <= 60 else f"{text[:57]}..."
