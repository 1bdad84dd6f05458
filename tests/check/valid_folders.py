"""Whole knowledge folders without a mistake, as documents and as text: what mutants are made from.

The tree comes first: causes are parted again and again until each is alone, and every parting becomes a test whose
outcomes the causes show. So every branch is one that a cause takes, no test comes twice on a path, and every cause is
concluded. All else (places, needs, covers, readings, minutes, per cents) is drawn at random.
"""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from dataclasses import dataclass
from typing import Any

import yaml
from hypothesis import strategies as st

from tests.documents import Document
from tests.strategies import _accesses as accesses
from tests.strategies import _procedures as procedures
from tests.strategies import closure

Draw = Any

TREE, CATALOGUE, SHOP, CAR = "made-up.yaml", "catalogue/all.yaml", "workshop.yaml", "vehicles/petrel-2.yaml"
SECOND = "second.yaml"
PROFILE = {
    "vehicle": "petrel-2", "name": "Petrel hatchback",
    "inlet": {"ac_sensor": {"kind": "ntc", "r25": 10000, "beta": 3435}},
    "safety": {"dead_below": 30, "wait": 5},
}  # fmt: skip
LOOK = {
    "ask": "Is the inlet burnt or wet?", "place": "reception", "minutes": 1, "outcomes": ["no", "yes"], "healthy": "no",
    "stop": ["yes"], "mind": ["Do not plug in."], "mistake": 3, "source": "made up for a test",
}  # fmt: skip


class _Plain(getattr(yaml, "CSafeDumper", yaml.SafeDumper)):  # type: ignore[misc]
    """Writes the same list twice rather than pointing at it: the format has no anchors."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


@dataclass(frozen=True)
class Folder:
    """One folder. `files`: file name to its document. `cut`: the test of each parting, top first."""

    files: Mapping[str, Any]
    cut: tuple[str, ...]

    def texts(self) -> dict[str, str]:
        """Return file name to YAML text, each key on a line of its own."""
        return {name: yaml.dump(said, Dumper=_Plain, sort_keys=False, width=1000) for name, said in self.files.items()}

    def changed(self) -> Folder:
        """Return a copy that may be spoilt."""
        return Folder(deepcopy(dict(self.files)), self.cut)


@st.composite
def folders(draw: Draw) -> Folder:
    """Return a valid folder: two trees, a catalogue, a house and a car."""
    access = {"lid": {"name": "lid", "open": 2, "close": 3}} | draw(accesses(3))
    access["clip"] = {"name": "clip", "after": ["lid"], "open": 1, "close": 1, "power": "dead"}
    causes = {f"cause-{n}": _cause(draw, access, n) for n in range(draw(st.integers(2, 5)))}
    growing = _Growing(draw, access, causes)
    growing.part(list(causes), top=True)
    growing.tests["danger-look"] = dict(LOOK)
    causes["cause-0"]["shows"]["danger-look"] = {"no": 85, "yes": 15}
    steps = {"danger-look": {"then": {"yes": {"refer": "a technician"}, "no": growing.cut[0]}}} | growing.steps
    shares = {cause: draw(st.integers(1, 40)) for cause in causes} | {"something-else": draw(st.integers(1, 20))}
    tree = {"tree": "made-up", "title": "A made-up complaint", "revision": 1, "hears": ["does not charge"],
            "causes": shares, "start": "danger-look", "steps": steps}  # fmt: skip
    catalogue = {"tests": growing.tests, "causes": causes, "access": access,
                 "procedures": _procedures(draw(procedures(access)))}  # fmt: skip
    house = {
        "workshop": "Harbour Lane Garage", "rate": draw(st.sampled_from([60, 96])), "referral": 300, "comeback": 400,
        "meters": {"multimeter": {"volt": {"percent": 1, "counts": 2}}},
    }  # fmt: skip
    files = {TREE: {"diagtree": 1, **tree}, CATALOGUE: catalogue, SHOP: house, SECOND: _second(growing), CAR: PROFILE}
    return Folder(deepcopy(files), tuple(growing.cut))


def _procedures(drawn: Document) -> dict[str, Any]:
    """Return the drawn procedures, with what the profile says in them, and a last look."""
    found = deepcopy(dict(drawn))
    for step in found["make-safe"]["steps"]:
        if step["kind"] == "absence":
            step["below"] = "vehicle.safety.dead_below"
        elif step["kind"] == "wait":
            step["minutes"] = "vehicle.safety.wait"
    found.setdefault("hand-back", {"minutes": 5, "steps": [{"kind": "look", "do": "Look."}]})
    return found


def _second(growing: _Growing) -> dict[str, Any]:
    """Return another tree, so that there is one to hand over to: its one test parts two causes."""
    test = growing.cut[-1]
    ends = {outcome: {"conclude": cause} for outcome, cause in growing.last.items()}
    return {
        "diagtree": 1, "tree": "second", "title": "Another complaint", "revision": 1, "hears": ["charges slowly"],
        "causes": dict.fromkeys(growing.last.values(), 50), "start": test, "steps": {test: {"then": ends}},
    }  # fmt: skip


def _cause(draw: Draw, access: Document, number: int) -> dict[str, Any]:
    said: dict[str, Any] = {"name": f"fault {number}", "where": draw(st.sampled_from(["inlet", "wiring"])), "shows": {}}
    if number == 1 or (number > 1 and draw(st.booleans())):
        return said | {"where": "outside", "advise": {"do": "Tell the owner.", "minutes": draw(st.integers(0, 20))}}
    correction = {
        "do": "Mend it.", "minutes": draw(st.integers(1, 120)), "needs": _needs(draw, access, dead=number == 0),
        "parts": [{"name": "part", "price": draw(st.integers(0, 900))}],
    }  # fmt: skip
    return said | {"correction": correction, "proof": {"charge": "ac", "minutes": draw(st.integers(1, 45))}}


def _needs(draw: Draw, access: Document, *, dead: bool = False) -> dict[str, Any]:
    if dead:
        return {"power": "dead", "open": ["clip"]}
    power = draw(st.sampled_from(["live", "dead", "any"]))
    fit = [key for key in access if power != "live" or not any(_shut(access[low]) for low in closure(access, [key]))]
    wanted = draw(st.lists(st.sampled_from(fit), max_size=2, unique=True)) if fit else []
    return {"power": power, "open": wanted} if wanted else {"power": power}


def _shut(access: Document) -> bool:
    return access.get("power") == "dead" or bool(access.get("refit-before-live"))


class _Growing:
    """Parts causes until each is alone; every parting is a test and a step."""

    def __init__(self, draw: Draw, access: Document, causes: Document) -> None:
        self.draw, self.access, self.causes = draw, access, causes
        self.tests: dict[str, Any] = {}
        self.steps: dict[str, Any] = {}
        self.cut: list[str] = []
        self.last: dict[str, str] = {}

    def part(self, some: list[str], top: bool = False) -> str:
        """Part `some` causes by a test; return its step."""
        draw = self.draw
        count = draw(st.integers(2, min(3, len(some))))
        order = draw(st.permutations(some))
        groups = [list(order[n::count]) for n in range(count)]
        name = f"test-{len(self.cut)}"
        self.cut.append(name)
        outcomes = ["alpha", "bravo", "charlie"][:count]
        self.tests[name] = self._test(outcomes, number=len(self.cut))
        for outcome, group in zip(outcomes, groups, strict=True):
            for cause in group:
                self.causes[cause]["shows"][name] = self._shown(outcome, outcomes)
        self.steps[name] = {"then": {}}
        for outcome, group in zip(outcomes, groups, strict=True):
            self.steps[name]["then"][outcome] = {"conclude": group[0]} if len(group) == 1 else self.part(group)
        if all(len(group) == 1 for group in groups):
            self.last = {outcome: group[0] for outcome, group in zip(outcomes, groups, strict=True)}
            self.cut.append(self.cut.pop(self.cut.index(name)))
        if draw(st.booleans()):
            ways = [{"refer": "a friend"}, {"hand-over": "second"}]
            self.steps[name]["then"]["not-done"] = draw(st.sampled_from(ways))
        return name

    def _shown(self, outcome: str, outcomes: list[str]) -> dict[str, int]:
        slip = self.draw(st.integers(0, 10))
        other = next(one for one in outcomes if one != outcome)
        return {outcome: 100 - slip, other: slip} if slip else {outcome: 100}

    def _test(self, outcomes: list[str], number: int) -> dict[str, Any]:
        draw = self.draw
        place = draw(st.sampled_from(["reception", "bay", "bay", "road"]))
        place = {1: "bay", 2: "reception"}.get(number, place)
        said: dict[str, Any] = {"ask": "What does it show?", "how": ["Look at it.", "Look again."], "place": place}
        said["minutes"] = draw(st.integers(1, 30))
        if place == "bay":
            said["needs"] = _needs(draw, self.access, dead=number == 1) | {"tools": ["multimeter"]}
            said["qualification"] = "high-voltage"
            said["mind"] = ["Touch no orange part."]
        elif place == "road":
            said["needs"] = {"power": "live"}
        if number == 1 or (number > 2 and draw(st.booleans())):
            said["reads"] = {"level": draw(st.sampled_from(["V", "degC", "A"]))}
            count = len(outcomes) - 1
            limits = sorted(draw(st.lists(st.integers(1, 50), min_size=count, max_size=count, unique=True)))
            said["outcomes"] = {one: f"below {limit}" for one, limit in zip(outcomes, limits, strict=False)}
            said["outcomes"][outcomes[-1]] = "otherwise"
        else:
            said["outcomes"] = list(outcomes)
        return said | {"healthy": draw(st.sampled_from(outcomes)), "mistake": draw(st.sampled_from([0, 2, 5])),
                       "source": "made up for a test"}  # fmt: skip
