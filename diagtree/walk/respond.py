"""An answer to events. Every driver passes here: a person, a file and a simulated car are held to the same rules.

Raises AnswerError, saying what was expected, for anything the prompt cannot take; then nothing has happened.
"""

from __future__ import annotations

from collections.abc import Callable

from diagtree.errors import AnswerError
from diagtree.knowledge.fields import did_you_mean
from diagtree.knowledge.words import NOT_DONE
from diagtree.walk import tick_says
from diagtree.walk.answers import (
    Answer,
    Back,
    Changed,
    ChooseNow,
    Chosen,
    DidNot,
    DoNow,
    Leave,
    NotDone,
    Note,
    RecordTest,
    Ticked,
    Typed,
)
from diagtree.walk.context import Walk
from diagtree.walk.events import (
    Answered,
    CarChanged,
    CaseClosed,
    Decided,
    Event,
    Noted,
    Resumed,
    StepRefused,
    StepTakenBack,
    StepUnconfirmed,
    TestChosen,
    Undone,
)
from diagtree.walk.fold import fold
from diagtree.walk.prompts import Choice, Fields, Form, Kind, Prompt, Tick
from diagtree.walk.respond_ending import ANSWERS_ENDING
from diagtree.walk.respond_record import no_such_test, recorded
from diagtree.walk.respond_work import ANSWERS_WORK, Reply, by_whom
from diagtree.walk.route import ToEnd, ToTest, route
from diagtree.walk.session import next_prompt
from diagtree.walk.state import State

_BY_KIND: dict[Kind, Callable[[Reply], tuple[Event, ...]]] = {**ANSWERS_WORK, **ANSWERS_ENDING}


def respond(walk: Walk, state: State, answer: Answer, at: str) -> tuple[Event, ...]:
    """Return what happens when `answer` is given to the prompt that is due at the time `at` (ISO)."""
    prompt = next_prompt(walk, state, at)
    if prompt is None:
        raise AnswerError("the case is closed; open a new one")
    events = _events(walk, state, prompt, answer, at)
    return _closing(walk, state, events, at)


def resume(state: State, at: str) -> tuple[Event, ...]:
    """Return what happens when a case is opened again: proofs of absence do not hold over a break."""
    return () if state.closed is not None else (Resumed(at),)


def _closing(walk: Walk, state: State, events: tuple[Event, ...], at: str) -> tuple[Event, ...]:
    after = fold(walk, events, state)
    goal = route(walk, after).goal
    if after.closed is None and isinstance(goal, ToEnd) and next_prompt(walk, after, at) is None:
        return (*events, CaseClosed(at, goal.how))
    return events


def _events(walk: Walk, state: State, prompt: Prompt, answer: Answer, at: str) -> tuple[Event, ...]:
    match answer:
        case Leave():
            return ()
        case Note(text=text):
            if not text.strip():
                raise AnswerError("the note is empty; type what is to be kept")
            return (Noted(at, text, prompt.key),)
        case Back(count=count):
            return _back(state, count, at)
        case DidNot(reason=reason):
            if not prompt.did_not:
                raise AnswerError("`did-not` takes back a step of making safe; no such step was done here")
            return (StepTakenBack(at, reason),)
        case Changed():
            return _changed(walk, state, answer, at)
        case RecordTest():
            return recorded(walk, state, prompt, answer, at)
        case DoNow(test=test):
            return _do_now(walk, state, prompt, test, at)
        case ChooseNow():
            return _choose_now(walk, state, prompt, at)
        case NotDone(reason=reason):
            return _not_done(prompt, reason, state, at)
        case Chosen() | Typed() | Ticked():
            try:
                fits(prompt, answer)
            except AnswerError as error:
                raise AnswerError(str(error), _kept(prompt, answer, at)) from None
            return _BY_KIND[prompt.kind](Reply(walk, state, prompt, answer, at))


def _kept(prompt: Prompt, answer: Answer, at: str) -> tuple[Event, ...]:
    """Return what the record keeps of an answer that was not taken: a safety question answered with no."""
    form = prompt.form
    if prompt.kind is not Kind.PROCEDURE or not isinstance(form, Tick) or not isinstance(answer, Ticked):
        return ()
    says = answer.says.strip()
    if not form.good or says.lower() in ("", form.word) or _begins(says, form.good):
        return ()
    procedure, _, index = prompt.key.rpartition(":")
    return (StepRefused(at, procedure, int(index), says),)


def _back(state: State, count: int, at: str) -> tuple[Event, ...]:
    """Take back the confirmed steps of the procedure under way, last first, and then answers."""
    running = state.running
    steps = running.indices[: running.done] if running is not None else ()
    known = len(steps) + len(state.items)
    if count < 1:
        raise AnswerError(f"`back {count}`: say how many answers to take back, from 1")
    if not known:
        raise AnswerError("there is no answer to take back yet")
    if count > known:
        raise AnswerError(f"only {known} answer(s) or step(s) can be taken back; got `back {count}`")
    if state.voltage_found:
        raise AnswerError("nothing is taken back while voltage stops the work; repeat the proof, or leave it isolated")
    undone = tuple(
        StepUnconfirmed(at, running.procedure, index) for index in steps[::-1][:count] if running is not None
    )
    return undone if count <= len(steps) else (*undone, Undone(at, count - len(steps)))


def _changed(walk: Walk, state: State, answer: Changed, at: str) -> tuple[Event, ...]:
    known = walk.catalogue.access
    for name in (*answer.opened, *answer.closed):
        if name not in known:
            raise AnswerError(f"there is no access `{name}`{did_you_mean(name, known)}; known: {', '.join(known)}")
    both = sorted(set(answer.opened) & set(answer.closed))
    if both:
        raise AnswerError(f"`{both[0]}` cannot have been both opened and closed; say how it is now")
    gone = [name for name in answer.closed if name not in state.arrangement.open]
    if gone:
        raise AnswerError(f"`{gone[0]}` is not open by this case; open now: {', '.join(state.opened) or 'nothing'}")
    if not (answer.powered or answer.opened or answer.closed or answer.note.strip()):
        raise AnswerError("say what was changed: powered, what was opened, or what was closed")
    return (CarChanged(at, answer.powered, tuple(answer.opened), tuple(answer.closed), answer.note),)


def _do_now(walk: Walk, state: State, prompt: Prompt, test: str, at: str) -> tuple[Event, ...]:
    if test not in walk.catalogue.tests:
        raise AnswerError(no_such_test(walk, test))
    _demand_free(walk, state, prompt, "test")
    if prompt.test == test:
        raise AnswerError(f"`{test}` is the test that is due already")
    return (TestChosen(at, test),)


def _choose_now(walk: Walk, state: State, prompt: Prompt, at: str) -> tuple[Event, ...]:
    _demand_free(walk, state, prompt, "act")
    if not isinstance(route(walk, state).goal, ToTest):
        raise AnswerError("what remains can be chosen from while a test is due; here, answer the question")
    return (Decided(at, "remaining", prompt.key),)


def _demand_free(walk: Walk, state: State, prompt: Prompt, what: str) -> None:
    """Raise AnswerError where nothing may be chosen out of turn."""
    if state.voltage_found or prompt.kind in (Kind.LOOK, Kind.DANGER, Kind.COMPLAINT, Kind.ALREADY):
        raise AnswerError(f"answer this first; another {what} can be chosen after it")
    if route(walk, state).danger:
        raise AnswerError("a danger was found: no more tests on this car; refer it, or take the finding back (`back`)")


def _not_done(prompt: Prompt, reason: str, state: State, at: str) -> tuple[Event, ...]:
    if not prompt.not_done or prompt.test is None:
        raise AnswerError("this cannot be left out; answer it, or `leave` to go on later")
    if not reason.strip():
        raise AnswerError("say why it was not done: the record needs the reason")
    return (Answered(at, prompt.test, NOT_DONE, reason=reason, by=by_whom(state, prompt.test)),)


def fits(prompt: Prompt, answer: Chosen | Typed | Ticked) -> None:
    """Raise AnswerError where the answer is not of the prompt's form."""
    form: Form = prompt.form
    if isinstance(form, Choice):
        _fits_choice(form, answer)
    elif isinstance(form, Fields):
        _fits_fields(form, answer)
    else:
        _fits_tick(form, answer)


def _fits_choice(form: Choice, answer: Answer) -> None:
    known = [option.id for option in form.options]
    if not isinstance(answer, Chosen):
        raise AnswerError(f"choose one of: {', '.join(known)}; got {said(answer)}")
    if not answer.options or (len(answer.options) > 1 and not form.many):
        wanted = "one or more" if form.many else "exactly one"
        raise AnswerError(f"choose {wanted} of: {', '.join(known)}; got {said(answer)}")
    for name in answer.options:
        if name not in known:
            hint = did_you_mean(name, known) or f"; it takes {', '.join(known)}"
            raise AnswerError(f"`{name}` is no answer here{hint}")
    if len(answer.options) > 1 and "nothing" in answer.options:
        raise AnswerError("`nothing` cannot stand beside something; name one or the other")


def _fits_fields(form: Fields, answer: Answer) -> None:
    names = [field.name for field in form.fields]
    if not isinstance(answer, Typed):
        raise AnswerError(f"type a value for: {', '.join(names)}; got {said(answer)}")
    for name in answer.values:
        if name not in names:
            raise AnswerError(
                f"there is no value `{name}` here{did_you_mean(name, names)}; it takes {', '.join(names)}"
            )
    for field in form.fields:
        text = str(answer.values.get(field.name, "")).strip()
        if not text and not field.optional:
            raise AnswerError(f"{field.text}: nothing was typed")
        if text and field.words and text.lower() not in field.words:
            raise AnswerError(f"{field.text}: type {' or '.join(field.words)}; got `{text}`")


def _fits_tick(form: Tick, answer: Answer) -> None:
    if not isinstance(answer, Ticked) or answer.word.strip().lower() != form.word:
        raise AnswerError(f"type `{form.word}` in full when it is done; got {said(answer)}")
    if wrong := tick_says.trouble(form, answer.says):
        raise AnswerError(wrong)
    if form.good and not _begins(answer.says, form.good):
        raise AnswerError(
            f"`{answer.says.strip()}`: where it is so, begin with {' or '.join(f'`{word}`' for word in form.good)}. "
            f"Where it is not so, do not go on: {form.otherwise}"
        )


def _begins(says: str, words: tuple[str, ...]) -> bool:
    """Return whether what was said begins with one of these words."""
    text = " ".join(says.casefold().split())
    return any(text == word or (text.startswith(word) and not text[len(word)].isalnum()) for word in words)


def said(answer: Answer) -> str:
    """Return an answer to a prompt's form as a message names it."""
    match answer:
        case Chosen(options=options):
            return f"`{', '.join(options)}`"
        case Typed(values=values):
            return f"`{', '.join(f'{name}: {text}' for name, text in values.items())}`"
        case Ticked(word=word):
            return f"`{word}`"
        case _:
            return f"`{type(answer).__name__}`"
