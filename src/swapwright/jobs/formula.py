"""An expression as a page writes it: fractions, powers, roots, Greek letters; nothing is solved."""

from __future__ import annotations

import ast
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

Shape = Literal["row", "letter", "number", "sign", "word", "fraction", "power", "root", "bracket"]

DIGITS = 6
"""Digits of a number put into an expression: enough that three of the result come out again."""
_PLAIN = (1e-4, 1e6)
"""Numbers outside these ends are written with a power of ten."""

_GREEK: Mapping[str, str] = {
    "alpha": "α",
    "beta": "β",
    "eps": "ε",
    "eta": "η",
    "mu": "μ",
    "omega": "ω",
    "phi": "φ",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "dT": "ΔT",
    "CdA": "CdA",
}
_WORDS: Mapping[str, str] = {"log": "ln", "Min": "least of", "Max": "greatest of", "atan": "arctan"}
_SIGNS: Mapping[type[ast.AST], str] = {
    ast.Add: "+",
    ast.Sub: "−",
    ast.Mult: "·",
    ast.LtE: "≤",
    ast.Lt: "<",
    ast.GtE: "≥",
    ast.Gt: ">",
}
_SUM, _SIGNED, _PRODUCT, _ATOM = range(4)
"""How tightly a part holds together; what holds less tightly than its place needs is bracketed."""


@dataclass(frozen=True)
class Formula:
    """A part of an expression; ``text`` of a letter, a number, a sign or a word, else its parts.

    ``below`` is a letter's subscript, or a number's power of ten.
    """

    shape: Shape
    text: str = ""
    below: str = ""
    parts: tuple[Formula, ...] = ()


@lru_cache(maxsize=2048)
def formula_of(expression: str) -> Formula:
    """Return an expression with its letters."""
    return _Writer({}).made(expression)


def with_numbers(expression: str, numbers: Mapping[str, float]) -> Formula:
    """Return an expression with SI numbers in the place of its letters."""
    return _Writer(numbers).made(expression)


def letter_of(name: str) -> Formula:
    """Return a letter of an expression as a page writes it: ``eta_c`` is η with a small c."""
    base, _, below = name.partition("_")
    return Formula("letter", _GREEK.get(base, base), _GREEK.get(below, below).replace("_", " "))


def number_of(si: float) -> Formula:
    """Return a number as it stands in an expression: ``1.58×10⁸`` where it is long."""
    text = f"{si:.{DIGITS}g}"
    if si != 0.0 and not _PLAIN[0] <= abs(si) < _PLAIN[1]:
        mantissa, _, exponent = f"{si:.{DIGITS - 1}e}".partition("e")
        mantissa = mantissa.rstrip("0").rstrip(".")
        return Formula("number", mantissa.replace("-", "−"), str(int(exponent)).replace("-", "−"))
    return Formula("number", text.replace("-", "−"))


def plain(formula: Formula) -> str:
    """Return a formula as one line of text, for who hears a page and for who copies it."""
    inside = [plain(part) for part in formula.parts]
    if formula.shape == "letter":
        return (
            f"{formula.text}_{formula.below.replace(' ', '_')}" if formula.below else formula.text
        )
    if formula.shape == "number":
        return f"{formula.text} × 10^{formula.below}" if formula.below else formula.text
    if formula.shape == "fraction":
        return " / ".join(_held(part) for part in formula.parts)
    if formula.shape == "power":
        return "^".join(_held(part) for part in formula.parts)
    if formula.shape in ("root", "bracket"):
        return f"{'√' if formula.shape == 'root' else ''}({inside[0]})"
    return formula.text.strip() or " ".join(inside).replace(" , ", ", ")


def _held(formula: Formula) -> str:
    """Return a part as one line, in brackets unless it is one thing."""
    is_one = formula.shape in ("letter", "number", "bracket", "root") and " " not in formula.text
    return plain(formula) if is_one else f"({plain(formula)})"


class _Writer:
    """Writes a parsed expression; ``numbers`` stand for the letters that have one."""

    def __init__(self, numbers: Mapping[str, float]) -> None:
        self.numbers = numbers

    def made(self, expression: str) -> Formula:
        return self.write(ast.parse(expression, mode="eval").body)

    def write(self, node: ast.AST, at_least: int = _SUM, *, is_small: bool = False) -> Formula:
        """Return a node, in brackets where its place asks for what holds together more tightly."""
        made, holds = self.shaped(node, is_small)
        return _bracketed(made) if holds < at_least else made

    def shaped(self, node: ast.AST, is_small: bool) -> tuple[Formula, int]:
        if isinstance(node, ast.BinOp):
            return self.joined(node, is_small)
        if isinstance(node, ast.UnaryOp):
            inside = self.write(node.operand, _PRODUCT, is_small=is_small)
            return _row(Formula("word", "−"), inside), _SIGNED
        if isinstance(node, ast.Name):
            return self.named(node.id)
        if isinstance(node, ast.Call):
            return self.called(node, is_small), _ATOM
        if isinstance(node, ast.Compare):
            parts = [self.write(node.left)]
            for operator, right in zip(node.ops, node.comparators, strict=True):
                parts += [_sign(_SIGNS[type(operator)]), self.write(right)]
            return _row(*parts), _SUM
        if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
            return number_of(float(node.value)), _ATOM
        raise ValueError(f"an expression cannot hold {ast.dump(node)}")

    def named(self, name: str) -> tuple[Formula, int]:
        if name not in self.numbers:
            return letter_of(name), _ATOM
        number = number_of(self.numbers[name])
        if number.text.startswith("−"):
            return number, _SIGNED
        return number, _PRODUCT if number.below else _ATOM

    def joined(self, node: ast.BinOp, is_small: bool) -> tuple[Formula, int]:
        if isinstance(node.op, ast.Pow):
            base = self.write(node.left, _ATOM)
            if base.shape in ("fraction", "power", "root"):
                base = _bracketed(base)
            exponent = self.write(node.right, is_small=True)
            return Formula("power", parts=(base, exponent)), _ATOM
        if isinstance(node.op, ast.Div) and not is_small:
            return Formula("fraction", parts=(self.write(node.left), self.write(node.right))), _ATOM
        if isinstance(node.op, ast.Div):
            parts = self.write(node.left, _PRODUCT, is_small=True), _sign("/")
            return _row(*parts, self.write(node.right, _ATOM, is_small=True)), _PRODUCT
        is_product = isinstance(node.op, ast.Mult)
        left, held = self.shaped(node.left, is_small)
        if is_product and held < _SIGNED:
            left, held = _bracketed(left), _ATOM
        right, holds = self.shaped(node.right, is_small)
        if holds == _SIGNED or (holds == _SUM and not isinstance(node.op, ast.Add)):
            right = _bracketed(right)
        made = _row(left, _sign(_SIGNS[type(node.op)]), right)
        return made, min(_PRODUCT, held) if is_product else _SUM

    def called(self, node: ast.Call, is_small: bool) -> Formula:
        name = node.func.id if isinstance(node.func, ast.Name) else ""
        if name == "Piecewise":
            return self.cases(node.args)
        inside = [self.write(each, is_small=is_small) for each in node.args]
        if name == "sqrt":
            return Formula("root", parts=(inside[0],))
        if name == "Abs":
            return _row(_sign("|"), inside[0], _sign("|"))
        listed = inside[:1]
        for each in inside[1:]:
            listed += [Formula("word", ", "), each]
        return _row(Formula("word", _WORDS.get(name, name)), _bracketed(_row(*listed)))

    def cases(self, pairs: Sequence[ast.AST]) -> Formula:
        """Return what holds where: ``a where x < 1, else b``."""
        parts: list[Formula] = []
        for pair in pairs:
            value, condition = pair.elts if isinstance(pair, ast.Tuple) else (pair, pair)
            is_last = isinstance(condition, ast.Constant)
            if is_last:
                parts += [Formula("word", ", else "), self.write(value)]
            else:
                parts += [self.write(value), Formula("word", " where "), self.write(condition)]
        return _bracketed(_row(*parts))


def _bracketed(formula: Formula) -> Formula:
    return Formula("bracket", parts=(formula,))


def _row(*parts: Formula) -> Formula:
    return Formula("row", parts=tuple(parts))


def _sign(text: str) -> Formula:
    return Formula("sign", text)
