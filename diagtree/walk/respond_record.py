"""Another test that was done anyway: evidence like any other, entered without the walk's lead."""

from __future__ import annotations

from diagtree.errors import AnswerError
from diagtree.knowledge.fields import did_you_mean
from diagtree.reason.arrangement import relies_on_dead
from diagtree.walk.answers import RecordTest
from diagtree.walk.approach import proof_is_good
from diagtree.walk.context import Walk
from diagtree.walk.events import Answered, Event, Measured
from diagtree.walk.judging import read
from diagtree.walk.prompts import Kind, Prompt
from diagtree.walk.respond_work import settled
from diagtree.walk.state import State


def recorded(walk: Walk, state: State, prompt: Prompt, answer: RecordTest, at: str) -> tuple[Event, ...]:
    """Return the answer that a test done anyway gives.

    A test that needs a dead car, told while the car counts as live, must say in `note` who measured when: it is a
    record of what was done, never an invitation to do it now.
    """
    if prompt.kind in (Kind.LOOK, Kind.VOLTAGE_FOUND, Kind.DANGER, Kind.COMPLAINT):
        raise AnswerError("answer this first; another test can be recorded after it")
    test = walk.catalogue.tests.get(answer.test)
    if test is None:
        raise AnswerError(no_such_test(walk, answer.test))
    relies = relies_on_dead(walk.layout, state.arrangement, walk.layout.need_of(test))
    if relies and not proof_is_good(walk, state, at) and not answer.note.strip():
        raise AnswerError(
            f"`{test.id}` needs a dead car and this one is not freshly proven dead: do not do it now. "
            "To record what was measured earlier, say in the note who measured when"
        )
    if not test.reads:
        known = test.outcome_ids()
        if answer.outcome not in known:
            hint = did_you_mean(answer.outcome or "", known)
            raise AnswerError(f"`{test.id}` ends in one of {', '.join(known)}; got `{answer.outcome or ''}`{hint}")
        return (
            Answered(
                at,
                test.id,
                str(answer.outcome),
                by="technician",
                recorded=True,
                note=answer.note,
                was_mistake=answer.was_mistake,
            ),
        )
    readings = read(walk, test, answer.values)
    measured = Measured(at, test.id, readings.typed, readings.meters, True, answer.note, answer.was_mistake)
    found = settled(walk, state, test, readings, measured, "technician", ask=False)
    if found == (measured,):
        raise AnswerError(
            f"`{test.id}` needs a maker's value that this car's profile does not know; choose it with `do` to be asked"
        )
    return found


def no_such_test(walk: Walk, test: str) -> str:
    """Return what to say of a test that is not in the catalogue: the nearest name, else all of them."""
    known = walk.catalogue.tests
    return f"there is no test `{test}`{did_you_mean(test, known) or '; known: ' + ', '.join(known)}"
