"""Dataclasses made quickly: a tool that is started a hundred times a day makes some hundred of them at each start.

`dataclass(frozen=True, slots=True)` gives what that of the standard library gives, which compiles six functions a class
and so takes a third of the time to a walk's first question. Here only `__init__` is compiled; the rest are plain
functions over the fields. What is not plain goes to the standard library: other options, ancestors that have fields,
methods of the class's own in the place of these, keyword-only fields, and arguments that are no field.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:  # to everybody who reads types it is that of the standard library
    from dataclasses import dataclass as dataclass
else:
    import dataclasses
    from operator import attrgetter
    from reprlib import recursive_repr

    def dataclass(cls=None, /, **options):
        """Do as `dataclasses.dataclass` does."""
        if cls is None:
            return lambda one: dataclass(one, **options)
        if options != {"frozen": True, "slots": True} or not _is_plain(cls):
            return dataclasses.dataclass(cls, **options)
        return _frozen(cls)

    def _is_plain(cls):
        own, bases = vars(cls), cls.__bases__
        if any(hasattr(base, "__dataclass_fields__") for base in bases) or not _METHODS.isdisjoint(own):
            return False
        if any(isinstance(value, dataclasses.Field) and value.kw_only is True for value in own.values()):
            return False
        kinds = [str(kind) for kind in own.get("__annotations__", {}).values()]
        return not any("KW_ONLY" in kind or "InitVar" in kind for kind in kinds)

    def _frozen(cls):
        cls = dataclasses.dataclass(cls, init=False, repr=False, eq=False, slots=True)
        params = cls.__dataclass_params__
        params.init = params.repr = params.eq = params.frozen = True  # so that a child may be frozen too
        fields = dataclasses.fields(cls)
        cls.__init__ = _init(cls, fields)
        shown = [one.name for one in fields if one.repr]
        values = _values([one.name for one in fields if one.compare])
        every = [one.name for one in fields]

        def __eq__(self, other):
            return values(self) == values(other) if other.__class__ is self.__class__ else NotImplemented

        def __hash__(self):
            return hash(values(self))

        @recursive_repr()
        def __repr__(self):
            return f"{self.__class__.__qualname__}({', '.join(f'{name}={getattr(self, name)!r}' for name in shown)})"

        def __setattr__(_, name, *__):
            raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")

        def __delattr__(_, name):
            raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")

        def __getstate__(self):
            return [getattr(self, name) for name in every]

        def __setstate__(self, state):
            for name, value in zip(every, state, strict=True):
                object.__setattr__(self, name, value)

        for method in (__eq__, __hash__, __repr__, __setattr__, __delattr__, __getstate__, __setstate__):
            setattr(cls, method.__name__, method)
        return cls

    _METHODS = frozenset(("__init__", "__repr__", "__eq__", "__hash__", "__setattr__", "__delattr__", "__getstate__",
                          "__setstate__"))  # fmt: skip

    def _values(names):
        """Return what gives the values of these fields as a tuple."""
        if len(names) > 1:
            return attrgetter(*names)
        return (lambda one: (getattr(one, names[0]),)) if names else lambda _: ()

    def _init(cls, fields):
        """Compile `__init__`; it sets each slot itself, since the class lets nobody assign.

        It knows no name of the class's module: ask the class for its type hints, not this.
        """
        given, body, known = [], [], {}
        for one in fields:
            name = one.name
            known[f"_set_{name}"] = vars(cls)[name].__set__
            value, ready = name, one.default is not dataclasses.MISSING
            if ready:
                known[f"_default_{name}"] = one.default
            elif one.default_factory is not dataclasses.MISSING:
                known["_absent"], known[f"_make_{name}"] = _ABSENT, one.default_factory
                value = f"_make_{name}() if {name} is _absent else {name}"
            if one.init:
                default = f"=_default_{name}" if ready else "=_absent" if value != name else ""
                given.append(f"{name}{default}")
            else:
                value = f"_default_{name}" if ready else f"_make_{name}()"
            body.append(f" _set_{name}(self, {value})")
        if hasattr(cls, "__post_init__"):
            body.append(" self.__post_init__()")
        exec(f"def __init__(self, {', '.join(given)}):\n" + "\n".join(body or [" pass"]), known)
        made = known["__init__"]
        made.__module__ = cls.__module__
        made.__qualname__ = f"{cls.__qualname__}.__init__"
        made.__annotations__ = {one.name: one.type for one in fields if one.init} | {"return": None}
        return made

    class _Absent:
        def __repr__(self):
            return "<factory>"  # what a signature shows

    _ABSENT = _Absent()
