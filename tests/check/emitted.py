"""Which rules the sources can tell of, and at which level: read from the program's text, not from a run of it.

Every finding is made by `Finding(rule, level, ...)`. Where the two are written out, they are taken as they stand; where
they are parameters of the function around, the calls of that function are looked up in turn.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TypeAlias

Function: TypeAlias = ast.FunctionDef | None
Emitted: TypeAlias = tuple[str, str]
"""A rule's name, and its level as `Level.NAME`."""


@dataclass(frozen=True)
class Site:
    """A call in a file, and the function around it."""

    call: ast.Call
    function: Function
    constants: Mapping[str, ast.expr]


@dataclass(frozen=True)
class Sources:
    """All calls in some files, by the name of what is called."""

    calls: Mapping[str, tuple[Site, ...]]

    def emitted(self) -> frozenset[Emitted]:
        """Return every rule and level that a `Finding(...)` in these files can have."""
        found: set[Emitted] = set()
        for site in self.calls.get("Finding", ()):
            level = next((word.value for word in site.call.keywords if word.arg == "level"), None)
            found.update(self._settle(site.call.args[0], level or site.call.args[1], site))
        return frozenset(found)

    def _settle(self, rule: ast.expr, level: ast.expr, site: Site) -> Iterator[Emitted]:
        rule, level = (_constant(part, site) for part in (rule, level))
        if not (_parameters(rule, site) or _parameters(level, site)):
            yield _written(rule), _written(level)
            return
        assert site.function is not None
        for caller in self.calls.get(site.function.name, ()):
            given = _given(site.function, caller.call)
            yield from self._settle(_put(rule, given), _put(level, given), caller)


def read(folder: Path, without: str = "") -> Sources:
    """Return the calls in all Python files under `folder`, those in its folder `without` left out."""
    calls: dict[str, list[Site]] = {}
    for path in sorted(folder.rglob("*.py")):
        if without and without in path.relative_to(folder).parts:
            continue
        tree = ast.parse(path.read_text())
        named = {
            target.id: part.value
            for part in tree.body if isinstance(part, ast.Assign)
            for target in part.targets if isinstance(target, ast.Name)
        }
        for call, function in _calls(tree, None):
            name = call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")
            calls.setdefault(name, []).append(Site(call, function, named))
    return Sources({name: tuple(sites) for name, sites in calls.items()})


def _calls(node: ast.AST, function: Function) -> Iterator[tuple[ast.Call, Function]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.Call):
            yield child, function
        yield from _calls(child, child if isinstance(child, ast.FunctionDef) else function)


def _constant(part: ast.expr, site: Site) -> ast.expr:
    return site.constants.get(part.id, part) if isinstance(part, ast.Name) else part


def _parameters(part: ast.expr, site: Site) -> list[str]:
    """Return the parameters of the function around that `part` still waits for."""
    if site.function is None:
        return []
    known = {argument.arg for argument in site.function.args.args}
    return [name.id for name in ast.walk(part) if isinstance(name, ast.Name) and name.id in known]


def _given(function: ast.FunctionDef, call: ast.Call) -> dict[str, ast.expr]:
    """Return what a call gives for each parameter, defaults where it gives nothing."""
    names = [argument.arg for argument in function.args.args]
    given = dict(zip(reversed(names), reversed(function.args.defaults), strict=False))
    if names[:1] == ["self"]:
        names = names[1:]
    given.update(zip(names, call.args, strict=False))
    given.update({word.arg: word.value for word in call.keywords if word.arg})
    return given


def _put(part: ast.expr, given: Mapping[str, ast.expr]) -> ast.expr:
    class Put(ast.NodeTransformer):
        def visit_Name(self, node: ast.Name) -> ast.expr:
            return given.get(node.id, node)

    return Put().visit(ast.parse(ast.unparse(part), mode="eval").body)


def _written(part: ast.expr) -> str:
    """Return the text that a literal, an f-string of literals or `Level.NAME` spells."""
    if isinstance(part, ast.Constant):
        return str(part.value)
    if isinstance(part, ast.JoinedStr):
        return "".join(_written(piece) for piece in part.values)
    if isinstance(part, ast.FormattedValue):
        return _written(part.value)
    return ast.unparse(part)
