"""A light scan of a TOML text: which line each dotted path stands on.

The text is known to be sound TOML; the scan only counts lines, it judges nothing.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping

_TOKEN = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}'
    r"|'''.*?'{3,5}"
    r'|"(?:[^"\\\n]|\\.)*"'
    r"|'[^'\n]*'"
    r"|#[^\n]*"
    r"|\n"
    r"|[\[\]{}=,.]"
    r"|[^\s\[\]{}=,.#\"']+",
    re.DOTALL,
)

_DEEPEST = 40


def lines_of(text: str) -> dict[str, int]:
    """Return the line (from 1) of every path in a sound TOML text.

    A list's rows are numbered from 0: ``mass[0].x``. A header's path stands on the header's line.
    """
    return _Scan(text).run()


def line_at(lines: Mapping[str, int], path: str) -> int | None:
    """Return the line of a path, or of the nearest thing above it, None where there is none."""
    while path:
        if path in lines:
            return lines[path]
        path = path.rpartition(".")[0] if not path.endswith("]") else path.rpartition("[")[0]
    return None


def _tokens(text: str) -> Iterator[tuple[str, int]]:
    line = 1
    for match in _TOKEN.finditer(text):
        token = match.group()
        if not token.startswith("#"):
            yield token, line
        line += token.count("\n")


def _key(token: str) -> str:
    if token[0] == "'":
        return token[1:-1]
    if token[0] != '"':
        return token
    try:
        return str(json.loads(token))
    except ValueError:  # an escape only TOML has; such a key is unknown anyway
        return token[1:-1]


def _join(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


class _Scan:
    """One pass over the tokens; ``at`` is the token being looked at.

    ``above`` holds what is only named on the way in a header: ``hv`` of ``[hv.cable]``.
    """

    def __init__(self, text: str) -> None:
        self.tokens = list(_tokens(text))
        self.tokens.append(("", self.tokens[-1][1] if self.tokens else 1))
        self.at = 0
        self.lines: dict[str, int] = {}
        self.above: dict[str, int] = {}
        self.rows: dict[str, int] = {}
        self.depth = 0

    def run(self) -> dict[str, int]:
        base = ""
        while self.token:
            if self.token == "\n":
                self.at += 1
            elif self.token == "[":
                base = self.header()
            else:
                self.pair(base)
        return {**self.above, **self.lines}

    @property
    def token(self) -> str:
        return self.tokens[self.at][0]

    def note(self, path: str) -> None:
        self.lines.setdefault(path, self.tokens[self.at][1])

    def header(self) -> str:
        line = self.tokens[self.at][1]
        is_list = self.tokens[self.at + 1][0] == "["
        steps: list[str] = []
        while self.token not in ("\n", ""):
            if self.token not in ("[", "]", ".") and len(steps) < _DEEPEST:
                steps.append(_key(self.token))
            self.at += 1
        path = ""
        for step in steps[:-1]:
            path = _join(path, step)
            self.above.setdefault(path, line)
            path = self.row(path)
        path = _join(path, steps[-1])
        if is_list:
            self.lines.setdefault(path, line)
            self.rows[path] = self.rows.get(path, -1) + 1
            path = self.row(path)
        self.lines.setdefault(path, line)
        return path

    def row(self, path: str) -> str:
        """Return the path of the list row being filled where the path is such a list."""
        return f"{path}[{self.rows[path]}]" if path in self.rows else path

    def pair(self, base: str) -> None:
        path, deep = base, 0
        while self.token not in ("=", ""):
            if self.token != "." and deep < _DEEPEST:
                deep += 1
                path = _join(path, _key(self.token))
                self.note(path)
            self.at += 1
        self.at += 1
        self.value(path)

    def value(self, path: str) -> None:
        self.depth += 1
        if self.token not in ("{", "["):
            while self.token not in (",", "]", "}", "\n", ""):
                self.at += 1
        elif self.depth > _DEEPEST:
            self.skip()
        elif self.token == "{":
            self.table(path)
        else:
            self.array(path)
        self.depth -= 1

    def skip(self) -> None:
        """Step over a table or list without looking inside, however deep it goes."""
        level = 0
        while self.token:
            level += (self.token in ("{", "[")) - (self.token in ("}", "]"))
            self.at += 1
            if level == 0:
                return

    def table(self, path: str) -> None:
        self.at += 1
        while self.token not in ("}", ""):
            if self.token in (",", "\n"):
                self.at += 1
            else:
                self.pair(path)
        self.at += 1

    def array(self, path: str) -> None:
        self.at += 1
        number = 0
        while self.token not in ("]", ""):
            if self.token in (",", "\n"):
                self.at += 1
                continue
            self.note(f"{path}[{number}]")
            self.value(f"{path}[{number}]")
            number += 1
        self.at += 1
