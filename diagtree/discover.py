"""Find the one constant that every module of a folder of the kind "one per file" defines."""

from __future__ import annotations

from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import TypeVar

from diagtree.errors import WrongUse

Kind = TypeVar("Kind")


def collect(package: ModuleType, constant: str, kind: type[Kind]) -> tuple[Kind, ...]:
    """Return the `constant` of every module in `package`, in the order of the module names.

    Raises WrongUse, naming the module, where the constant is missing or of another type: a helper that
    strays into such a folder is told so instead of being passed over.
    """
    return tuple(single(package, name, constant, kind) for name in sorted(names(package)))


def names(package: ModuleType) -> frozenset[str]:
    """Return the names of the modules in `package`, without importing any of them."""
    return frozenset(info.name for info in iter_modules(package.__path__))


def single(package: ModuleType, name: str, constant: str, kind: type[Kind]) -> Kind:
    """Return the `constant` of the module `name` in `package`. Raises WrongUse, naming it, as `collect` does."""
    module = import_module(f"{package.__name__}.{name}")
    value = getattr(module, constant, None)
    if not isinstance(value, kind):
        raise WrongUse(f"{module.__name__} must define {constant}, a {kind.__name__}; it has {value!r}")
    return value
