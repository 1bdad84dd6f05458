"""Knowledge as plain documents (the format's mappings), and the words that a document means.

Tests state a problem once, as a document: `words` turns it into the project's frozen types without the YAML reader,
`texts` into the files' text for tests of the whole, and the oracles read the document itself.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import yaml

from diagtree.knowledge.house import House
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import (
    Access,
    Advice,
    Catalogue,
    Cause,
    Conclude,
    Correction,
    HandOver,
    Needs,
    Outcome,
    Part,
    Power,
    Procedure,
    Proof,
    Qualification,
    Refer,
    Step,
    Target,
    Test,
    Tree,
    Where,
)

Document = Mapping[str, Any]
"""`tests`, `causes`, `access`, `procedures`, `house` and `tree`, each as the format has it."""

AT = Place("document.yaml")

MAKE_SAFE_STEPS = [
    {"kind": "unplug", "do": "Unplug the charging cable."},
    {"kind": "switch-off", "do": "Switch the car off."},
    {"kind": "disconnect", "do": "Open the service disconnect."},
    {"kind": "secure", "do": "Lock the key away. Who holds it?"},
    {"kind": "wait", "do": "Wait for the capacitors.", "minutes": 5},
    {"kind": "prove-tester", "do": "Prove the tester on a known source."},
    {
        "kind": "absence", "do": "Measure.", "below": 60,
        "between": ["DC+ and DC-", "DC+ and chassis", "DC- and chassis"],
    },
    {"kind": "prove-tester", "do": "Prove the tester again."},
]


@dataclass(frozen=True)
class Known:
    """The words of one document."""

    tree: Tree
    catalogue: Catalogue
    house: House


def words(document: Document) -> Known:
    """Return the frozen types that `document` means."""
    return Known(
        _tree(document["tree"]),
        Catalogue(
            tests={key: _test(key, said) for key, said in document.get("tests", {}).items()},
            causes={key: _cause(key, said) for key, said in document.get("causes", {}).items()},
            access={key: _access(key, said) for key, said in document.get("access", {}).items()},
            procedures={key: _procedure(key, said) for key, said in document.get("procedures", {}).items()},
            vehicle=None,
        ),
        House(**{key: document["house"].get(key) for key in ("rate", "referral", "comeback")}),
    )


def texts(document: Document) -> dict[str, str]:
    """Return file name (inside a knowledge folder) to YAML text."""
    tree = {"diagtree": 1, **document["tree"]}
    catalogue = {key: document[key] for key in ("tests", "causes", "access", "procedures") if document.get(key)}
    said = {key: value for key, value in document["house"].items() if value is not None}
    return {
        f"{tree['tree']}.yaml": _yaml(tree),
        "catalogue/all.yaml": _yaml(catalogue),
        "workshop.yaml": _yaml({"workshop": "Harbour Lane Garage", **said}),
    }


class _Plain(yaml.SafeDumper):
    """Writes the same list twice rather than pointing at it: the format has no anchors."""

    def ignore_aliases(self, data: Any) -> bool:
        return True


def _yaml(said: Document) -> str:
    return yaml.dump(said, Dumper=_Plain, sort_keys=False)


def _needs(said: Document | None) -> Needs:
    if said is None:
        return Needs(Power.ANY)
    return Needs(Power(said["power"]), tuple(said.get("open", ())))


def _test(key: str, said: Document) -> Test:
    outcomes = tuple(Outcome(outcome, None, AT) for outcome in said["outcomes"])
    return Test(
        id=key, ask=said["ask"], how=(), place=Where(said["place"]), minutes=said["minutes"],
        attended=said.get("attended"), needs=_needs(said.get("needs")), qualification=Qualification.NONE, mind=(),
        reads=(), expected=None, judge=None, outcomes=outcomes, healthy=said["healthy"],
        stop=frozenset(said.get("stop", ())), mistake=said.get("mistake", 0), source=said["source"], at=AT,
    )


def _cause(key: str, said: Document) -> Cause:
    correction, proof, advise = said.get("correction"), said.get("proof"), said.get("advise")
    return Cause(
        id=key, name=said["name"], where=said["where"], shows=said.get("shows", {}), fault={},
        correction=correction and Correction(
            do=correction["do"], how=(), minutes=correction["minutes"], attended=correction.get("attended"),
            parts=tuple(Part(**part) for part in correction.get("parts", ())), needs=_needs(correction["needs"]),
            qualification=Qualification.NONE, mind=(), at=AT,
        ),
        proof=proof and Proof(proof["charge"], proof["minutes"], proof.get("attended"), (), AT),
        advise=advise and Advice(advise["do"], advise["minutes"], advise.get("attended"), AT),
        source="", at=AT,
    )


def _access(key: str, said: Document) -> Access:
    return Access(
        key, said["name"], said["open"], said["close"], tuple(said.get("after", ())), said.get("power") == "dead",
        bool(said.get("refit-before-live", False)), (), AT,
    )


def _procedure(key: str, said: Document) -> Procedure:
    return Procedure(key, said["minutes"], tuple(said.get("needs", {}).get("open", ())), (), (), AT)


def _target(said: Any) -> Target:
    if isinstance(said, str):
        return said
    (kind, name), = said.items()
    return {"conclude": Conclude, "hand-over": HandOver, "refer": Refer}[kind](name)


def _tree(said: Document) -> Tree:
    steps = {
        key: Step(
            key, step.get("test", key), {outcome: _target(target) for outcome, target in step["then"].items()},
            dict.fromkeys(step["then"], AT), AT,
        )
        for key, step in said["steps"].items()
    }
    return Tree(
        said["tree"], said["title"], said["revision"], (), dict(said["causes"]), dict.fromkeys(said["causes"], AT),
        said["start"], steps, AT,
    )
