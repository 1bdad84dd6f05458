"""Prompts, scenes and a face for the tests of the terminal."""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.knowledge.library import read_library
from diagtree.terminal.drivers import Scene
from diagtree.terminal.face import Block
from diagtree.terminal.interrupted import Interrupted
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Option, Prompt, Tick

CATALOGUE = """
tests:
  other-point:
    ask: Does the car charge on another AC charge point with the same cable?
    place: reception
    minutes: 1
    outcomes: [yes, no]
    healthy: no
    mistake: 5
    source: common practice
  looks-burnt:
    ask: Is the inlet discoloured, melted, cracked or wet?
    place: reception
    minutes: 1
    outcomes: [no, yes]
    healthy: no
    stop: [yes]
    mistake: 3
    source: common practice
  sensor:
    ask: Resistance of the inlet temperature sensor
    place: bay
    minutes: 6
    needs: {power: any}
    reads: {resistance: ohm, temperature: degC}
    judge: resistance
    outcomes: {low: below 100 ohm, normal: otherwise}
    healthy: normal
    mistake: 2
    source: common practice
access:
  bench: {name: rear seat bench, open: 20, close: 20}
  cover: {name: charger cover, open: 5, close: 5, after: [bench]}
"""

LIBRARY = read_library({"catalogue/all.yaml": CATALOGUE})
KNOWN = LIBRARY.catalogue(None)


def scene(answered: dict[str, str] | None = None, open_now: tuple[str, ...] = ()) -> Scene:
    return Scene(
        why=lambda: ("It parts the charge point from the car.",),
        tests=KNOWN.tests, answered=answered or {}, access=KNOWN.access, open_now=open_now,
    )  # fmt: skip


YES_NO = Prompt(
    Kind.OUTCOME, "other-point", "Charging on another point", "Does the car charge on another point?",
    Choice((Option("yes", "yes"), Option("no", "no"))), not_done=True, test="other-point",
)  # fmt: skip

LOOK = Prompt(
    Kind.LOOK, "look", "First look", "Is there any of this?",
    Choice((Option("nothing", "nothing of it"), Option("smoke", "smoke or smell", danger=True),
            Option("burnt", "burnt plug", danger=True)), many=True),
    cautions=("Do not touch a burnt plug.",),
)  # fmt: skip

READING = Prompt(
    Kind.READING, "sensor", "Inlet sensor", "Resistance of the inlet temperature sensor",
    Fields((Field("resistance", "Resistance", "ohm"), Field("temperature", "Temperature", "degC"))),
    how=("Unplug the connector.", "Measure between the pins."), cautions=("Do not back-probe.",), not_done=True,
)  # fmt: skip

ABSENCE = Prompt(
    Kind.ABSENCE, "absence", "Absence of voltage", "Measure the absence of voltage.",
    Fields((Field("a", "DC+ and DC-", "V", plain=True), Field("b", "DC+ and chassis", "V", plain=True))), did_not=True,
)  # fmt: skip

SECURE = Prompt(
    Kind.PROCEDURE, "make-safe/secure", "Make safe", "Lock the key away.", Tick("done", "Who holds the key?"),
    did_not=True,
)  # fmt: skip


class ScriptFace:
    """Types what it was given; keeps what it was shown."""

    def __init__(self, *lines: str, narrow: bool = False) -> None:
        self._lines = list(lines)
        self.narrow = narrow
        self.shown: list[Block] = []
        self.labels: list[str] = []

    def show(self, blocks: Iterable[Block]) -> None:
        self.shown.extend(blocks)

    def ask(self, label: str) -> str:
        self.labels.append(label)
        if not self._lines:
            raise Interrupted
        return self._lines.pop(0)

    @property
    def text(self) -> str:
        return "\n".join(f"{block.first}{block.text}" for block in self.shown)

    @property
    def rest(self) -> list[str]:
        return self._lines
