"""Text of an expression to its parts, against a list of what is allowed. Nothing is ever run.

Allowed: numbers; names of readings, `expected` and `vehicle.a.b`; `+ - * /`, minus and plus signs, round brackets;
`abs`, `min`, `max`, `round`; the published quantities, with inputs in order or by name. At most 200 characters, nested
at most 20 deep.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Mapping
from fractions import Fraction
from keyword import kwlist
from math import isfinite

from diagtree.errors import WrongUse
from diagtree.knowledge.limits_nodes import (
    Builtin,
    Call,
    ExpressionError,
    Name,
    Negative,
    Node,
    Number,
    Operation,
    Word,
)
from diagtree.physics.nearest import did_you_mean
from diagtree.physics.quantity import Input, Quantity, quantity, quantity_names
from diagtree.physics.units import prefix, unit

LONGEST = 200
DEEPEST = 20

_BUILTINS: Mapping[str, tuple[int, int]] = {"abs": (1, 1), "round": (1, 2), "min": (2, 99), "max": (2, 99)}
_SYMBOLS: Mapping[type[ast.operator], str] = {ast.Add: "+", ast.Sub: "-", ast.Mult: "*", ast.Div: "/"}
_ALLOWED = "write arithmetic with numbers, names, + - * / ( ), abs, min, max, round and the published quantities"
_COMPARE = "leave comparisons to `below` and to the order of the outcomes"
_QUOTES = "write the word without quotes"
_POWER = "write a power as a product, like x * x"
_BRACKETS = "use round brackets"
_WHY_NOT: Mapping[str, str] = {
    "**": _POWER, "^": _POWER, "//": "use / and round", "%": "write / 100", "'": _QUOTES, '"': _QUOTES,
    "<": _COMPARE, ">": _COMPARE, "<=": _COMPARE, ">=": _COMPARE, "==": _COMPARE, "!=": _COMPARE, "!": _COMPARE,
    "[": _BRACKETS, "]": _BRACKETS, "{": _BRACKETS, "}": _BRACKETS, "−": "use the hyphen - for minus",
    "–": "use the hyphen - for minus", "×": "use * for times", "·": "use * for times", "÷": "use / for divided by",
    "Ω": "write numbers without units", "°": "write numbers without units",
}  # fmt: skip
_TOKEN = re.compile(
    r"(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
    r"|(?P<name>[A-Za-z_][A-Za-z0-9_]*)"
    r"|(?P<other>\*\*|//|<=|>=|==|!=|[^-+*/(),.= ])"
    r"|(?P<mark>[-+*/(),.= ])"
)


def parse_nodes(text: str) -> Node:
    """Return the parts of the expression `text`. Raises ExpressionError, with column and advice, for all else."""
    if len(text) > LONGEST:
        raise ExpressionError(f"the expression is {len(text)} characters long", LONGEST, f"at most {LONGEST} are read")
    flat = re.sub(r"\s", " ", text)
    indent = len(flat) - len(flat.lstrip())
    flat = flat.strip()
    if not flat:
        raise ExpressionError("the expression is empty", 0, "write a number or arithmetic")
    _scan(flat, indent)
    try:
        tree = ast.parse(flat, mode="eval")
    except SyntaxError as error:
        column = indent + min(max((error.offset or 1) - 1, 0), len(flat))
        raise ExpressionError(f"`{flat}` breaks off or is out of order", column, _ALLOWED) from error
    except (ValueError, MemoryError, RecursionError) as error:
        raise ExpressionError("the expression cannot be read", indent, _ALLOWED) from error
    return _Builder(flat, indent).build(tree.body, 1)


def _scan(flat: str, indent: int) -> None:
    """Refuse what the list does not allow, character by character, before Python's own grammar sees it."""
    before: re.Match[str] | None = None
    gap = False
    for token in _TOKEN.finditer(flat):
        column, text = indent + token.start(), token.group()
        if token.lastgroup == "other":
            raise ExpressionError(f"`{text}` is not allowed here", column, _WHY_NOT.get(text, _ALLOWED))
        if token.lastgroup == "name" and text in kwlist:
            raise ExpressionError(f"`{text}` is a reserved word", column, _ALLOWED)
        if before is not None and before.lastgroup == "number" and token.lastgroup in ("number", "name"):
            advice = _in_full(before.group(), text)
            raise ExpressionError(f"`{before.group()}` and `{text}` stand side by side", column, advice)
        if before is not None and not gap and before.lastgroup == "name" and token.lastgroup == "number":
            raise ExpressionError(f"`{before.group()}{text}` is not a name", column, _ALLOWED)
        if token.lastgroup == "number":
            _check_number(text, column)
        gap = text == " "
        before = before if gap else token


def _in_full(number: str, behind: str) -> str:
    """Return what to write for a number with a prefix or unit behind it: for `1 Mohm` 1000000, of a reading in ohm."""
    start = "write numbers in full, in the unit of what is judged:"
    power = prefix(behind)
    if power is not None:
        return f"{start} {_times(number, Fraction(10) ** power)}"
    try:
        found = unit(behind)
    except WrongUse:
        return "write numbers in full, without prefix or unit, like 12000"
    own = f"{number} where the reading is in {found}"
    if not found.prefixed:
        return f"{start} {own}"
    base = unit(found.name[1:])
    return f"{start} {_times(number, found.factor / base.factor)} where the reading is in {base}, {own}"


def _times(number: str, factor: Fraction) -> str:
    return f"{float(number) * float(factor):.12g}"


def _check_number(text: str, column: int) -> None:
    if not isfinite(float(text)):
        raise ExpressionError(f"`{text}` is too large", column, "write a finite number")
    if len(text) > 1 and text[0] == "0" and text.isdigit():
        raise ExpressionError(f"`{text}` begins with 0", column, f"write {text.lstrip('0') or '0'}")


class _Builder:
    """Turns Python's syntax tree into ours, refusing every kind of part that is not listed."""

    def __init__(self, flat: str, indent: int) -> None:
        self.flat = flat
        self.indent = indent

    def build(self, tree: ast.expr, depth: int) -> Node:
        column = self.column(tree)
        if depth > DEEPEST:
            raise ExpressionError(f"the expression is nested more than {DEEPEST} deep", column, "simplify it")
        match tree:
            case ast.Constant(value=int() | float() as value) if not isinstance(value, bool):
                return Number(float(value), column)
            case ast.Name() | ast.Attribute():
                return self.name(tree)
            case ast.UnaryOp(op=ast.USub(), operand=operand):
                return Negative(self.build(operand, depth + 1), column)
            case ast.UnaryOp(op=ast.UAdd(), operand=operand):
                return self.build(operand, depth + 1)
            case ast.BinOp(left=left, op=operator, right=right) if type(operator) in _SYMBOLS:
                parts = self.build(left, depth + 1), self.build(right, depth + 1)
                return Operation(_SYMBOLS[type(operator)], *parts, column)
            case ast.Call():
                return self.call(tree, depth)
            case ast.Tuple():
                advice = "a decimal number takes a point (0.9)"
                raise ExpressionError("a comma stands outside a function", column, advice)
            case _:
                raise ExpressionError(f"`{self.segment(tree)}` is not allowed here", column, _ALLOWED)

    def column(self, tree: ast.expr | ast.keyword) -> int:
        return self.indent + tree.col_offset

    def segment(self, tree: ast.expr) -> str:
        return self.flat[tree.col_offset : tree.end_col_offset]

    def name(self, tree: ast.Name | ast.Attribute) -> Name:
        column, path = self.column(tree), tuple(self.segment(tree).replace(" ", "").split("."))
        part: ast.expr = tree
        while isinstance(part, ast.Attribute):
            part = part.value
        if not isinstance(part, ast.Name):
            raise ExpressionError(f"`{self.segment(tree)}`: only `vehicle` has dots", column, _ALLOWED)
        if path[0] == "vehicle" and len(path) == 1:
            raise ExpressionError("`vehicle` alone is no number", column, "name a fact, like vehicle.safety.wait")
        if path[0] != "vehicle" and len(path) > 1:
            raise ExpressionError(f"`{'.'.join(path)}`: only `vehicle` has dots", column, "name a reading or vehicle.*")
        return Name(path, column)

    def call(self, tree: ast.Call, depth: int) -> Node:
        column = self.column(tree)
        if not isinstance(tree.func, ast.Name):
            raise ExpressionError(f"`{self.segment(tree.func)}` cannot be called", column, _ALLOWED)
        name = tree.func.id
        if name in _BUILTINS:
            return self.builtin(name, tree, depth)
        if name not in quantity_names():
            near = did_you_mean(name, quantity_names() | set(_BUILTINS))
            advice = near.removeprefix("; ") or "`diagtree calc --list` names the functions"
            raise ExpressionError(f"there is no function `{name}`", column, advice)
        try:
            found = quantity(name)
        except WrongUse as error:
            raise ExpressionError(str(error), column) from error
        return Call(name, self.inputs(found, tree, depth), column)

    def builtin(self, name: str, tree: ast.Call, depth: int) -> Builtin:
        column, (fewest, most) = self.column(tree), _BUILTINS[name]
        if tree.keywords or not fewest <= len(tree.args) <= most:
            wants = {"abs": "one number", "round": "a number, and digits if you like"}.get(name, "two numbers or more")
            raise ExpressionError(f"`{name}` takes {wants}", column, f"write {name}(...) with {wants}")
        arguments = tuple(self.build(argument, depth + 1) for argument in tree.args)
        if name == "round" and len(arguments) == 2:
            digits = arguments[1]
            if not (isinstance(digits, Number) and digits.value.is_integer() and digits.value <= 15):
                raise ExpressionError("the digits of `round` must be a whole number", digits.column, "0 to 15")
        return Builtin(name, arguments, column)

    def inputs(self, found: Quantity, tree: ast.Call, depth: int) -> tuple[Node, ...]:
        """Return one part for each input of the quantity: given in order, given by name, or its default."""
        name, names = found.id.replace("-", "_"), [wanted.name for wanted in found.inputs]
        takes = f"it takes {', '.join(names)}" if names else "it takes nothing"
        if len(tree.args) > len(names):
            raise ExpressionError(f"`{name}` has {len(tree.args)} inputs", self.column(tree.args[len(names)]), takes)
        given = dict(zip(names, tree.args, strict=False))
        for keyword in tree.keywords:
            if keyword.arg is None or keyword.arg not in names or keyword.arg in given:
                word = f"`{name}` has no input `{keyword.arg}`" if keyword.arg not in given else "given twice"
                raise ExpressionError(word, self.column(keyword), takes)
            given[keyword.arg] = keyword.value
        return tuple(self.input(name, wanted, given.get(wanted.name), tree, depth) for wanted in found.inputs)

    def input(self, called: str, wanted: Input, given: ast.expr | None, tree: ast.Call, depth: int) -> Node:
        column = self.column(tree if given is None else given)
        if given is None:
            if wanted.default is None:
                advice = f"give `{wanted.name}` ({wanted.meaning})"
                raise ExpressionError(f"`{called}` lacks `{wanted.name}`", column, advice)
            return Word(wanted.default, column) if isinstance(wanted.default, str) else Number(wanted.default, column)
        if wanted.unit == "word" and self.segment(given) in wanted.words:
            return Word(self.segment(given), column)
        part = self.build(given, depth + 1)
        if wanted.unit in ("word", "facts") and not (isinstance(part, Name) and part.path[0] == "vehicle"):
            words = "one of " + ", ".join(wanted.words) if wanted.unit == "word" else "a part of the vehicle profile"
            raise ExpressionError(f"`{wanted.name}` of `{called}` takes {words}", column, "or name a fact, vehicle.*")
        return part
