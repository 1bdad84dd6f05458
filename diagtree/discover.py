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
    found = []
    for info in sorted(iter_modules(package.__path__), key=lambda item: item.name):
        module = import_module(f"{package.__name__}.{info.name}")
        value = getattr(module, constant, None)
        if not isinstance(value, kind):
            raise WrongUse(f"{module.__name__} must define {constant}, a {kind.__name__}; it has {value!r}")
        found.append(value)
    return tuple(found)
