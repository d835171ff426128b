"""Field rows: the one table that feeds loading, schema, form, help and error texts."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Field:
    """One thing a build file or a part may say.

    ``path`` is dotted, with ``[]`` after a list's name (``mass[].x``); in a part it is relative to
    the part (``peak_torque``). ``kind`` is a quantity kind of `base.quantity`, or one of

    * ``text``, ``name`` (no path separators), ``choice``, ``flag``, ``date``
    * ``list:KIND`` (a list of quantities, numbers or texts)
    * ``part:KIND`` (a catalogue name, a name with overrides, or a full part)
    * ``curve:XKIND,YKIND`` and ``map:ROWKIND,COLUMNKIND,ZKIND`` (tables)

    ``low``/``high`` bound the allowed SI value, both inclusive. ``default`` is an SI number, a
    text or a flag; None means there is none and the value is missing until given.
    ``life_critical`` marks inputs whose default can never carry a *met*. ``required`` is for parts
    and for a list's rows: one without it is a fault. ``spread`` bounds a default that is not known
    well (an 80 % spread): it flows into the bands until the owner gives a value. ``usual`` are the
    units a number without one most likely means here, where the first that fits may not be it.
    """

    path: str
    kind: str
    label: str
    help: str = ""
    low: float | None = None
    high: float | None = None
    choices: tuple[str, ...] = ()
    default: float | str | bool | None = None
    default_source: str = ""
    life_critical: bool = False
    required: bool = False
    spread: tuple[float, float] | None = None
    usual: tuple[str, ...] = ()
