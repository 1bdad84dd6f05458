"""An independent, simple model of the car in the bay: what is live and what is open, told only by what was really done.

Written from docs/meaning.md ("Safety"), not from the code: it knows nothing of arrangements, folds or needs.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from diagtree.walk.answers import Answer, Back, Changed, Chosen, DidNot, Ticked, Typed
from diagtree.walk.prompts import Kind, Prompt


@dataclass
class PhysicalCar:
    """`live` until the whole of making safe was done, proof of absence included; `fresh` while that proof is good."""

    live: bool = True
    fresh: bool = False
    open: set[str] = field(default_factory=set)
    stopped: bool = False  # voltage was found, and no whole proof came after it
    danger: bool = False  # a danger was read, and not taken back
    absent: bool = False  # the last absence reading was good, and nothing happened since

    def happened(self, prompt: Prompt, answer: Answer) -> None:
        """Let happen to the car what this answer says was done."""
        match answer:
            case Back() | DidNot() | Changed():
                self.disturbed(answer)
            case Chosen(options=options) if prompt.kind is Kind.ALREADY:
                self.open = set(options) - {"nothing", "isolated"}
            case Ticked() if prompt.kind is Kind.OPEN:
                self.open.add(prompt.key)
            case Ticked() if prompt.kind is Kind.CLOSE:
                self.open.discard(prompt.key)
            case Ticked() if prompt.kind is Kind.PROCEDURE:
                self.step(prompt.key, prompt.heading)
            case Typed(values=values) if prompt.kind is Kind.ABSENCE:
                self.absent = all(text in ("0.3", "-0,4", "1") for text in values.values())
                if not self.absent:
                    self.live, self.fresh, self.stopped = True, False, True
            case Ticked() if prompt.kind is Kind.DANGER:
                self.danger = True
            case _:
                pass

    def step(self, key: str, heading: str) -> None:
        """Let one step of a procedure be done."""
        procedure = key.split(":")[0]
        if procedure == "re-energise":
            self.live, self.fresh, self.absent = True, False, False
        elif procedure == "make-safe" and self.absent:
            # the tester, proven again after a good absence: the last step
            done, _, count = heading.rpartition("step ")[2].partition(" of ")
            assert done == count
            self.live, self.fresh, self.absent, self.stopped = False, True, False, False

    def disturbed(self, answer: Answer) -> None:
        """Something came between: the proof is not fresh any more, or the car is live again."""
        self.fresh = self.absent = False
        if isinstance(answer, Back):
            self.danger = False
        if isinstance(answer, DidNot):
            self.live = True
        if isinstance(answer, Changed):
            self.live = self.live or answer.powered
            self.open = (self.open - set(answer.closed)) | set(answer.opened)

    def came_back(self) -> None:
        """The case was left and opened again."""
        self.fresh = self.absent = False
