"""What really happens to the car during a walk, as a bystander sees it: what is live, what is open.

Written from docs/meaning.md ("Safety"), not from the session's code: it knows nothing of arrangements, folds or needs.
It listens to prompts and answers only, and so is a second opinion on the session's own bookkeeping.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from diagtree.walk.answers import Answer, Back, Changed, Chosen, DidNot, Ticked, Typed
from diagtree.walk.prompts import Kind, Prompt

HAZARDOUS = 60.0  # V DC; UN R100, ISO 6469-3. The session may ask for less, never for more.


@dataclass
class Bystander:
    """`live` until the whole of making safe was done, proof of absence included.

    steps : how many steps making safe has. holds : minutes for which a proof is good, None: until disturbed.
    now, proven_at : minutes since the walk began; `proven_at` None where no proof stands.
    stopped : voltage was found, and no whole proof came after it. danger : a danger was read and not taken back.
    handed_over : the walk went on with it in the tree that is made for it, and nothing was mended since.
    """

    steps: int = 0
    holds: float | None = None
    now: float = 0.0
    live: bool = True
    proven_at: float | None = None
    open: set[str] = field(default_factory=set)
    stopped: bool = False
    danger: bool = False
    handed_over: bool = False
    _absent_at: float | None = None  # when the last absence reading was good, nothing having happened since
    _done: set[int] = field(default_factory=set)  # steps of making safe done since the car was last live

    @property
    def dead(self) -> bool:
        """Whether the car is dead and that proof is still good."""
        if self.live or self.proven_at is None:
            return False
        return self.holds is None or 0 <= self.now - self.proven_at <= self.holds

    def happened(self, prompt: Prompt, answer: Answer) -> None:
        """Let happen to the car what this answer, which the session took, says was done."""
        match answer:
            case Back():
                self.danger = self.handed_over = False
                self._disturbed()
            case DidNot():
                self._powered()
            case Changed(powered=powered, opened=opened, closed=closed):
                self.open = (self.open - set(closed)) | set(opened)
                self._disturbed()
                if powered:
                    self._powered()
            case Chosen(options=options) if prompt.kind is Kind.ALREADY:
                self.open = set(options) - {"nothing", "isolated"}
            case Ticked() if prompt.kind is Kind.OPEN:
                self.open.add(prompt.key)
            case Ticked() if prompt.kind is Kind.CLOSE:
                self.open.discard(prompt.key)
            case Ticked() if prompt.kind is Kind.PROCEDURE:
                self._step(prompt.key)
            case Typed(values=values) if prompt.kind is Kind.ABSENCE:
                self._measured(prompt.key, values.values())
            case Ticked() if prompt.kind is Kind.DANGER:
                self.danger, self.handed_over = True, False
            case Chosen(options=("go-on",)) if prompt.kind is Kind.HAND_OVER and self.danger:
                self.danger, self.handed_over = False, True
            case Chosen() if prompt.kind is Kind.PROOF_RESULT:
                self.handed_over = False
            case _:
                pass

    def came_back(self) -> None:
        """Let the case have been left and opened again: who knows what was done meanwhile."""
        self._disturbed()

    def _step(self, key: str) -> None:
        procedure, _, number = key.partition(":")
        if procedure == "re-energise":
            self._powered()
        elif procedure == "make-safe":
            self._done.add(int(number))
            # The tester, proven again after a good absence, is the last step. All the others must have been done.
            if int(number) == self.steps - 1 and self._absent_at is not None and len(self._done) == self.steps:
                self.live, self.stopped, self.proven_at = False, False, self._absent_at

    def _measured(self, key: str, texts: Iterable[str]) -> None:
        if all(_volts(text) < HAZARDOUS for text in texts):
            self._absent_at = self.now
            self._done.add(int(key.partition(":")[2]))
        else:
            self.live, self.stopped, self.proven_at, self._absent_at = True, True, None, None

    def _powered(self) -> None:
        self.live = True
        self._done.clear()
        self._disturbed()

    def _disturbed(self) -> None:
        self.proven_at = self._absent_at = None


def _volts(text: str) -> float:
    try:
        return abs(float(text.strip().replace(",", ".")))
    except ValueError:
        return float("inf")
