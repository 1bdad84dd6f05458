"""A witness played through the real driver of answers files, without a store."""

from __future__ import annotations

from dataclasses import dataclass

from diagtree.errors import AnswerError, WrongUse
from diagtree.knowledge.library import Library
from diagtree.knowledge.words import Ending
from diagtree.terminal.answers_text import read_answers
from diagtree.terminal.drivers import Scene
from diagtree.terminal.drivers.answers_file import AnswersFileDriver
from diagtree.walk.answers import Leave
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered, Begun, Event
from diagtree.walk.fold import fold
from diagtree.walk.respond import respond
from diagtree.walk.route import route
from diagtree.walk.session import next_prompt

NOW = "2026-03-04T10:00:00+00:00"
SCENE = Scene(why=lambda: ())


@dataclass(frozen=True)
class Replay:
    """What came of an answers file.

    answers : test to outcome, in the order in which they were given. places : tree step at which each was asked.
    ending : where the walk ended; None where it did not. stopped : why the driver gave up, "" where it did not.
    unused : answers that were not asked for. made_safe : how often the absence of voltage was proven.
    """

    answers: dict[str, str]
    places: dict[str, str]
    ending: Ending | None
    stopped: str
    unused: tuple[str, ...]
    made_safe: int

    def answer_at(self, step: str) -> str | None:
        """Return what was answered at a step."""
        return next((outcome for test, outcome in self.answers.items() if self.places[test] == step), None)


def replay(library: Library, tree: str, text: str) -> Replay:
    """Play the answers in `text` as `diagtree walk TREE --answers FILE` does."""
    file = read_answers(text, "witness.yaml")
    walk = Walk.begin(library, tree, file.vehicle)
    driver = AnswersFileDriver(file, walk.catalogue)
    events: list[Event] = [Begun(NOW, tree, walk.vehicle, walk.house.rate, walk.house.referral, walk.house.comeback)]
    state = fold(walk, events)
    places: dict[str, str] = {}
    stopped = ""
    while (prompt := next_prompt(walk, state, NOW)) is not None:
        try:
            answer = driver.answer(prompt, SCENE)
            if isinstance(answer, Leave):
                break
            here = route(walk, state)
            new = respond(walk, state, answer, NOW)
        except (WrongUse, AnswerError) as error:
            stopped = str(error)
            break
        for event in new:
            if isinstance(event, Answered):
                places[event.test] = here.step or ""
        state = fold(walk, new, state)
    answers = {item.test: item.outcome for item in state.items if isinstance(item, Answered)}
    return Replay(answers, places, route(walk, state).ending, stopped, driver.unused(), len(state.absences))
