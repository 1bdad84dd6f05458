"""What is read and computed once for several cars is what each car alone would give."""

from __future__ import annotations

import pytest

from diagtree.check.flow import Flow
from diagtree.check.readings import Bench
from diagtree.check.run import check_library, usual_rules
from diagtree.check.subject import Once
from diagtree.knowledge.library import Library, read_library
from diagtree.knowledge.place import LaterPlaces, Place
from diagtree.knowledge.words import Catalogue, Test, Tree, Vehicle
from tests.knowledge.mutations import WAYS, Way
from tests.knowledge.test_malformed import FULL, around, folders, plant


def alone(texts: dict[str, str], vehicle: str | None) -> Library:
    """Return a library that has looked at one car only."""
    library = read_library(texts)
    if vehicle is None or vehicle in library.profiles:
        library.catalogue(vehicle)
    return library


def spoilt(folder: str, way: Way, seed: int) -> dict[str, str]:
    name, planted = plant(folder, way, seed)
    return {**around(folder, name, seed), name: planted.text}


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_each_car_alone_gives_the_same(way: Way) -> None:
    """Catalogue and findings do not depend on which cars were looked at before."""
    for folder, count in (("small", 6), ("shipped", 2 if FULL else 1)):
        for seed in range(count):
            texts = spoilt(folder, way, seed)
            together = read_library(texts)
            together.all_findings()
            for vehicle in (None, *together.profiles):
                single = alone(texts, vehicle)
                assert together.catalogue(vehicle) == single.catalogue(vehicle)
                assert together.catalogue_findings(vehicle) == single.catalogue_findings(vehicle)


def test_what_a_car_does_not_differ_in_is_the_same_object() -> None:
    library = read_library(folders()["shipped"])
    base = library.catalogue(None)
    for vehicle in library.profiles:
        catalogue = library.catalogue(vehicle)
        same = [name for name, test in catalogue.tests.items() if test is base.tests[name]]
        differs = library.profiles[vehicle].differs
        changed = differs.entries["tests"].value.entries if differs and "tests" in differs.entries else {}  # type: ignore[union-attr]
        assert set(same) == base.tests.keys() - changed.keys()


class Apart(Once):
    """Computes everything anew for each car."""

    def bench(self, test: Test, car: str | None, vehicle: Vehicle | None) -> Bench:
        return Bench(test, vehicle.facts if vehicle else {})

    def flow(self, tree: Tree, catalogue: Catalogue) -> Flow:
        return Flow(tree, catalogue)


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.__name__)
def test_rules_find_the_same_when_nothing_is_shared(way: Way, monkeypatch: pytest.MonkeyPatch) -> None:
    for seed in range(2 if FULL else 1):
        library = read_library(spoilt("shipped", way, seed))
        shared = check_library(library, usual_rules())
        with monkeypatch.context() as patch:
            patch.setattr("diagtree.check.subject.Once", Apart)
            assert check_library(library, usual_rules()) == shared


def test_places_are_looked_for_once_and_only_when_asked() -> None:
    calls = []

    def find() -> dict[str, Place]:
        calls.append(1)
        return {"a": Place("f", 1, 2)}

    places = LaterPlaces(find)
    assert calls == []
    assert places.get("a", Place("")) == Place("f", 1, 2)
    assert places.get("b") is None
    assert (list(places), len(places), calls) == (["a"], 1, [1])
