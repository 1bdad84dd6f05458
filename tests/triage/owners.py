"""What owners say (`sentences*.yaml`), and the complaints that must ship before it can be held against their trees."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import yaml

from diagtree.knowledge.files import load
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import TRIAGE, Tree

COMPLAINTS = (
    "ac-fails-dc-works", "dc-fails-ac-works", "nothing-happens", "starts-and-stops", "cuts-out-after-a-while",
    "slow-ac", "slow-dc", "some-points-only", "trips-supply", "insulation-warning", "plug-stuck", "plug-not-recognised",
    "stops-early", "timer-start", "flat-12v",
)  # fmt: skip
HELD_OUT, TO_TUNE_ON = "sentences.yaml", "sentences_to_tune_on.yaml"
DEVELOPMENT = "sentences_for_development.yaml"
"""Written by somebody who had not seen what is heard, and tuned on since; the complaint heat-or-smell is in it too."""


@cache
def shipped() -> Library:
    """Return the knowledge that ships."""
    return load()


@cache
def complaints() -> tuple[Tree, ...]:
    """Return the shipped complaint trees."""
    library = shipped()
    return tuple(library.trees[tree] for tree in library.trees if tree != TRIAGE)


def missing() -> list[str]:
    """Return the complaints that do not ship yet."""
    return [tree for tree in COMPLAINTS if tree not in shipped().trees]


@cache
def sentences(name: str) -> tuple[tuple[str, str], ...]:
    """Return pairs of a complaint and a sentence."""
    read = yaml.safe_load((Path(__file__).parent / name).read_text("utf-8"))
    return tuple((complaint, sentence) for complaint, said in read.items() for sentence in said)
