"""What really happens to the car in a round, as a bystander sees it: what is live, what is open, what is done to it.

Written from docs/meaning.md ("Arrangement", "Safety") alone. It reads the knowledge as a document and hears what was
done; it knows nothing of the quiz's state, of needs or of moves, and so is a second opinion on them.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from diagtree.quiz.events import Advised, Corrected, Event, Moved, Referred, Tested
from tests.documents import Document
from tests.strategies import closure


@dataclass
class Bystander:
    """Complains in words about what may not happen."""

    document: Document
    live: bool = True
    open: set[str] = field(default_factory=set)
    danger: bool = False

    def sees(self, event: Event) -> list[str]:
        """Return what was wrong about `event`, and take note of what it did to the car."""
        match event:
            case Tested(test=test, outcome=outcome):
                said = self.document["tests"][test]
                wrong = self._work(said["place"], said.get("needs", {"power": "any"}))
                self.danger |= outcome in said.get("stop", ())
                return wrong
            case Corrected(cause=cause, fixed=fixed):
                wrong = self._work("bay", self.document["causes"][cause]["correction"]["needs"])
                self._proof_charge(fixed)
                return wrong
            case Moved(moves=moves):
                return ["hands on a car with a danger"] * self.danger + [
                    line for move, access, _ in moves for line in self._move(move, access)
                ]
            case Advised():
                return ["a car with a danger is handed back"] * self.danger
            case Referred():
                return []
            case _:
                return []

    def _work(self, place: str, needs: Document) -> list[str]:
        wanted = closure(self.document["access"], needs.get("open", ()))
        reaches = self.open | wanted
        hands_on = place != "reception" or bool(wanted)
        wrong = ["a reading on a car with a danger"] if hands_on and self.danger else []
        wrong += [f"{key} is shut" for key in wanted - self.open]
        if place == "road":
            return wrong + ["drives with something open"] * bool(self.open) + ["drives dead"] * (not self.live)
        if self.live and needs["power"] == "dead":
            wrong.append("a dead-only job on a live car")
        if self.live and hands_on and any(self._dead_only(key) for key in reaches):
            wrong.append("behind a dead-only cover of a live car")
        if needs["power"] == "live":
            wrong += ["a live job on a dead car"] * (not self.live)
            wrong += [f"{key} open on a live job" for key in self.open if self._must_close(key)]
        return wrong

    def _move(self, move: str, access: str) -> list[str]:
        if move == "make-safe":
            self.live = False
            return []
        if move == "re-energise":
            self.live = True
            return [f"powered with {key} open" for key in self.open if self._must_close(key)]
        wrong = ["a dead-only cover of a live car touched"] if self.live and self._dead_only(access) else []
        below = self.document["access"][access].get("after", ())
        if move == "open":
            wrong += [f"{access} opened through {key}" for key in set(below) - self.open]
            wrong += [f"{access} opened twice"] * (access in self.open)
            self.open.add(access)
        else:
            above = [key for key in self.open if access in self.document["access"][key].get("after", ())]
            wrong += [f"{access} shut under {key}" for key in above]
            wrong += [f"{access} shut twice"] * (access not in self.open)
            self.open.discard(access)
        return wrong

    def _proof_charge(self, fixed: bool) -> None:
        """A proof charge: what may not be open on a live car is shut, and what is `after` it; the end shuts all."""
        if fixed:
            self.open.clear()
        else:
            shut = {key for key in self.open if self._must_close(key)}
            self.open -= {key for key in self.open if closure(self.document["access"], [key]) & shut}
        self.live = True

    def _dead_only(self, key: str) -> bool:
        return bool(self.document["access"][key].get("power") == "dead")

    def _must_close(self, key: str) -> bool:
        return self._dead_only(key) or bool(self.document["access"][key].get("refit-before-live"))
