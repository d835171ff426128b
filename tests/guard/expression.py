"""Reads a working's expression as mathematics: its value, and its dimensions.

Used by the guards only; the running tool never evaluates an expression.
"""

from __future__ import annotations

import ast
import keyword
import re
from collections.abc import Callable, Iterable, Mapping
from functools import cache
from typing import Any

import pint
import sympy
from sympy.parsing.sympy_parser import auto_number, parse_expr

FUNCTIONS = {
    "Min": sympy.Min,
    "Max": sympy.Max,
    "Abs": sympy.Abs,
    "sqrt": sympy.sqrt,
    "exp": sympy.exp,
    "log": sympy.log,
    "sin": sympy.sin,
    "cos": sympy.cos,
    "tan": sympy.tan,
    "atan": sympy.atan,
    "pi": sympy.pi,
    "Piecewise": sympy.Piecewise,
}
NUMBERS = {"Integer": sympy.Integer, "Float": sympy.Float}
_LANGUAGE = (
    *(ast.Expression, ast.BinOp, ast.UnaryOp, ast.Call, ast.Compare, ast.Tuple),
    *(ast.Name, ast.Constant, ast.Load),
    *(ast.operator, ast.unaryop, ast.cmpop),
)
_PURE = (sympy.exp, sympy.log, sympy.sin, sympy.cos, sympy.tan, sympy.atan)


class ExpressionError(ValueError):
    """An expression uses a letter nobody declared, a Python keyword, or unlike dimensions."""


@cache
def parse(text: str, letters: tuple[str, ...]) -> sympy.Expr:
    """Parse an expression whose letters are declared; every other name is an error."""
    for letter in letters:
        if keyword.iskeyword(letter) or not letter.isidentifier() or letter in FUNCTIONS:
            raise ExpressionError(f"{letter!r} cannot be a letter")
    nodes = list(ast.walk(ast.parse(text, mode="eval")))
    strange = [type(node).__name__ for node in nodes if not isinstance(node, _LANGUAGE)]
    if strange:
        raise ExpressionError(f"not in the language of workings: {strange} in {text!r}")
    names = {node.id for node in nodes if isinstance(node, ast.Name)}
    undeclared = names - set(letters) - set(FUNCTIONS)
    if undeclared:
        raise ExpressionError(f"undeclared in {text!r}: {sorted(undeclared)}")
    symbols = {letter: sympy.Symbol(letter, real=True) for letter in letters}
    return parse_expr(
        text,
        local_dict={**FUNCTIONS, **symbols},
        global_dict=dict(NUMBERS),
        transformations=(auto_number,),
    )


def evaluator(text: str, letters: Iterable[str]) -> Callable[..., Any]:
    """Return the expression as a function of its letters, in the order given."""
    order = tuple(letters)
    arguments = [sympy.Symbol(letter, real=True) for letter in order]
    return sympy.lambdify(arguments, parse(text, order), modules=["math"])


Dimension = Mapping[str, Any]
_registry = pint.UnitRegistry()
_NONE: Dimension = _registry.dimensionless.dimensionality
_ANY = "zero has any dimension"


@cache
def dimension_of_unit(unit: str) -> Dimension:
    """Return the dimension of an SI unit as the workings write it (``N.m``, ``J/kg/K``, ``1``)."""
    spelled = re.sub(r"(?<=[A-Za-z0-9)])\.(?=[A-Za-z(])", "*", unit)
    return _registry.parse_units("" if unit == "1" else spelled).dimensionality


def dimension(expression: sympy.Expr, units: Mapping[str, str]) -> Dimension:
    """Return the dimension of an expression from the units of its letters.

    Raises ExpressionError where unlike things are added or compared, or where an exponent or the
    argument of exp, log or an angle function is not a pure number.
    """
    found = _dimension(expression, units)
    return _NONE if found == _ANY else found


def _dimension(node: sympy.Basic, units: Mapping[str, str]) -> Any:
    if node.is_Symbol:
        return dimension_of_unit(units[str(node)])
    if node.is_number:
        return _ANY if node == 0 else _NONE
    if isinstance(node, sympy.Pow):
        return _power(node, units)
    if isinstance(node, sympy.Mul):
        product = _registry.Quantity(1.0, "").dimensionality
        for factor in node.args:
            product = product * _dimension(factor, units)
        return product
    if isinstance(node, _PURE):
        _alike([_dimension(node.args[0], units), _NONE], node)
        return _NONE
    if isinstance(node, sympy.Piecewise):
        for _, condition in node.args:
            _check_condition(condition, units)
        return _alike([_dimension(branch, units) for branch, _ in node.args], node)
    if isinstance(node, sympy.Add | sympy.Min | sympy.Max | sympy.Abs):
        return _alike([_dimension(part, units) for part in node.args], node)
    raise ExpressionError(f"not in the language of workings: {node}")


def _power(node: sympy.Pow, units: Mapping[str, str]) -> Any:
    base, exponent = node.args
    _alike([_dimension(exponent, units), _NONE], node)
    base_dimension = _dimension(base, units)
    if base_dimension in (_NONE, _ANY):
        return _NONE
    if not exponent.is_number:
        raise ExpressionError(f"a quantity with a unit is raised to a varying power: {node}")
    return base_dimension ** float(exponent)


def _check_condition(condition: sympy.Basic, units: Mapping[str, str]) -> None:
    for relation in condition.atoms(sympy.core.relational.Relational):
        _alike([_dimension(side, units) for side in relation.args], relation)


def _alike(dimensions: list[Any], node: sympy.Basic) -> Any:
    known = [each for each in dimensions if each != _ANY]
    for each in known[1:]:
        if not same(each, known[0]):
            raise ExpressionError(f"unlike dimensions in {node}: {known[0]} and {each}")
    return known[0] if known else _ANY


def same(one: Dimension, other: Dimension) -> bool:
    """Tell whether two dimensions are equal, allowing for roots taken in floating point."""
    return all(abs(one.get(key, 0) - other.get(key, 0)) < 1e-9 for key in {*one, *other})
