"""Which key of a build file somebody meant, be it here or in another section."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from swapwright.base.alias import meant_by
from swapwright.base.nearest import nearest
from swapwright.build.shape import SHAPE, PartPlace, Rows, Section

DRIVEN_AXLE = "driven_axle"
_SECOND = "drive.second."


def near_key(section: Section, key: str, path: str) -> str:
    """Return the key of this section, or the path in another, that an unknown key stands for.

    ``path`` is where the key was found. Empty where nothing is likely: a wrong hint is worse than
    none.
    """
    here = nearest(key, section.children)
    if here:
        return _with_axle(here, key)
    top = path.partition(".")[0].partition("[")[0]
    for word in (key.strip().casefold(), *meant_by(key)):
        ends = [at for at in _paths() if at.rpartition(".")[2] == word]
        near = [at for at in ends if at.partition(".")[0] == top] or ends
        if len(near) == 1:
            return _with_axle(near[0], key)
    return ""


def _with_axle(place: str, key: str) -> str:
    """Return a place, with the axle where the word names one: ``driven_axle = "rear"``."""
    meant = meant_by(key)
    if place.endswith(DRIVEN_AXLE) and len(meant) > 1:
        return f'{place} = "{meant[1]}"'
    return place


@lru_cache(maxsize=1)
def _paths() -> tuple[str, ...]:
    """Return the paths that may be meant from elsewhere, sections too.

    A row of a list is meant where it stands only; the second motor's paths repeat the first's.
    """
    places = (path for path in _below(SHAPE, "") if "[]" not in path)
    return tuple(path for path in places if not path.startswith(_SECOND))


def _below(section: Section, path: str) -> Iterator[str]:
    for key, node in section.children.items():
        at = f"{path}.{key}" if path else key
        yield at
        if isinstance(node, Rows):
            yield from _below(node.row, f"{at}[]")
        elif isinstance(node, PartPlace):
            yield from _below(node.section, at)
        elif isinstance(node, Section):
            yield from _below(node, at)
