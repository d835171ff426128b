"""A commented build file to start from: what is known filled in, the rest one keystroke away."""

from __future__ import annotations

from collections.abc import Mapping

from swapwright.base.errors import UnitError
from swapwright.base.quantity import parse, show
from swapwright.build.edit import edit
from swapwright.build.starter_sections import LEDGER, SECTIONS, OfferedList

_FIRST = (
    "# One car. Take the # off a line and write what you know; leave it where you do not."
    "\n# check says what is best found out next."
)
_FRONT_SHARE = 0.55
"""Of the kerb mass, in the example of a car that has been weighed as a whole."""


def starter(given: Mapping[str, str]) -> str:
    """Return the text of a build file to start from.

    ``given`` is what is known already, by build path, as a person types it
    (``{"car.kerb_mass": "1180 kg", "drive.motor": "pm-radial-75kw"}``); everything else usual
    stands there as a comment with an example. Raises InputError where a path is not one of a
    build file.
    """
    headers = [_commented(f"[{each.name}]", each.about) for each in SECTIONS]
    text = "\n\n".join([f"{_FIRST}\nformat = 1", *headers])
    text += "\n\n"
    for path, typed in given.items():
        text = edit(text, path, typed)
    fitting = {**_axle_masses(given.get("car.kerb_mass", "")), **_box_modules(given)}
    for section, header in zip(SECTIONS, headers, strict=True):
        before, after = text.split(f"{header}\n", 1)
        known, _, rest = after.partition("\n\n") if after[0] != "\n" else ("", "", after[1:])
        examples = [
            _example(f"{section.name}.{key}", example, comment, fitting)
            for key, example, comment in section.rows
            if not any(_is_said_by(path, f"{section.name}.{key}") for path in given)
        ]
        lines = [header, *known.splitlines(), *examples]
        for each in section.lists:
            lines += ["#", *_block(each, fitting)]
        text = before + "\n".join(lines) + f"\n\n{rest}"
    return "\n".join([text.rstrip(), "", *_block(LEDGER, fitting), ""])


def _block(offered: OfferedList, fitting: Mapping[str, str]) -> list[str]:
    """Return the comment lines of one row of a list."""
    lines = [
        _example(f"{offered.path}.{key}", example, comment, fitting)
        for key, example, comment in offered.rows
    ]
    return [_commented(f"# [[{offered.path}]]", offered.about), *lines]


def _example(path: str, example: str, comment: str, fitting: Mapping[str, str]) -> str:
    """Return the comment line that offers an entry."""
    key = path.rpartition(".")[2]
    return _commented(f"# {key} = {fitting.get(path, example)}", comment)


def _commented(line: str, comment: str) -> str:
    return line + (f"  # {comment}" if comment else "")


def _axle_masses(kerb: str) -> Mapping[str, str]:
    """Return an example of axle loads that add up to a kerb mass, none where it cannot be read."""
    try:
        mass = parse(kerb, "mass").si
    except UnitError:
        return {}
    front, rear = (
        show(share * mass, "mass", unit="kg", digits=4)
        for share in (_FRONT_SHARE, 1 - _FRONT_SHARE)
    )
    return {"car.axle_mass": f'{{ front = "{front}", rear = "{rear}" }}'}


def _box_modules(given: Mapping[str, str]) -> Mapping[str, str]:
    """Return an example of one box that holds the whole pack, none where it cannot be counted."""
    try:
        in_string, strings = (
            parse(given.get(f"pack.{key}", usual), "count").si
            for key, usual in (("modules_per_string", "12"), ("strings", "1"))
        )
    except UnitError:
        return {}
    return {"pack.boxes.modules": f"{in_string * strings:.0f}"}


def _is_said_by(path: str, row: str) -> bool:
    return path == row or path.startswith(f"{row}.")
