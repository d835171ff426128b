"""Numbers and lists as a procedure's sentences carry them."""

from __future__ import annotations

from collections.abc import Iterable

from swapwright.base.display import show


def told(si: float, kind: str) -> str:
    """Return an SI number as it stands in a sentence: three digits, metric, with its unit."""
    return show(si, kind)


def listed(names: Iterable[str], last: str = "and") -> str:
    """Return names as a sentence lists them: ``a, b and c``."""
    found = list(dict.fromkeys(names))
    if len(found) < 2:
        return "".join(found)
    return f"{', '.join(found[:-1])} {last} {found[-1]}"


def sentence(words: str) -> str:
    """Return words as a sentence: a capital in front, a full stop behind."""
    text = words.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")
