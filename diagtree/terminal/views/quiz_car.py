"""A round on a simulated car in words: how it stands, and what came of an act."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.knowledge.words import SOMETHING_ELSE
from diagtree.quiz.choices import Choice, Kind
from diagtree.quiz.events import (
    Advised,
    Corrected,
    Dealt,
    Event,
    Hinted,
    Moved,
    Referred,
    Refused,
    Stopped,
    Suggested,
    Tested,
    WentWrong,
)
from diagtree.quiz.guide import Suggestion
from diagtree.quiz.round import Round
from diagtree.quiz.score import RIGHT, Decision
from diagtree.quiz.state import State, start
from diagtree.reason.next_words import act_words
from diagtree.terminal.face import Block, Look
from diagtree.terminal.views.quiz_pictures import Pictures

_MOST_NAMED = 4  # accesses that stand at every question
_DANGER = "That is a danger: nobody works on this car or plugs it in. What is left is to set it apart: `refer`."


def opening(played: Round) -> Iterator[Block]:
    """Give what is shown once: complaint, owner, how it is played."""
    vehicle = played.walk.catalogue.vehicle
    yield Block(Look.HEADING, f"{played.mode.id.capitalize()}: {vehicle.name if vehicle else 'a car'}")
    yield Block(Look.ABOUT, played.dealt.story)
    yield Block(
        Look.ABOUT, f"Find what is wrong and put it right ({played.mode.words}). One act a line; `help` lists them."
    )


def standing(played: Round, state: State, *, whole: bool = False) -> str:
    """Return the car's state and what was spent, as one line; whole : with all that is open, be it never so much."""
    now = state.arrangement
    power = "made safe and proven dead" if now.dead else "live"
    names = list(reversed(played.problem.layout.put_back(now.open)))  # as they are typed
    opened = ", ".join(names) if names else "nothing"
    if len(names) > _MOST_NAMED and not whole:
        opened = f"{', '.join(names[-_MOST_NAMED:])} and {len(names) - _MOST_NAMED} more (`look` names all)"
    return f"{power.capitalize()}. Open: {opened}. {state.minutes:g} min, {money(played, state.money)} so far."


def keys(played: Round) -> str:
    """Return the key line."""
    more = f"{'go, ' if played.mode.guide else ''}{'hint, ' if played.mode.hints else ''}"
    return f"tests, causes, access, look, {more}help, leave, stop"


def help_lines(played: Round) -> tuple[str, ...]:
    """Return what may be typed."""
    lines = [
        "tests, causes, access: lists for this complaint; tests WORD: in full; tests all, access all: every one. Then "
        "a number does what it says.",
        "test NAME (part of the name will do): ask, look, read out or measure.",
        "open NAME, close NAME (several: open A, B), make-safe, re-energise: change the car. make-safe means all its "
        "steps, the proof of absence of voltage included.",
        "correct CAUSE, advise CAUSE: you say how sure you are; then the repair and the proof charge, or the advice.",
        "refer: give the car to somebody else.",
        "look: what is known, open and spent. Lists and look are free at any time.",
    ]
    if played.mode.guide:
        lines.append("go: do what the tree says.")
    if played.mode.hints:
        minutes = played.mode.hint_minutes
        lines.append(f"hint: an experienced colleague says what is best; costs {minutes:g} min of labour. Do it "
                     "and it is never held against you, whatever a longer search finds.")
    return (*lines, "leave: go, the round is kept. stop: give the round up.")


def known(played: Round, state: State) -> tuple[str, ...]:
    """Return what was found out and done so far."""
    tests = played.walk.catalogue.tests
    lines = [f"{test}: {outcome} ({tests[test].ask})" for test, outcome in state.outcomes.items()]
    lines += [f"{cause_name(played, cause)}: out, the proof charge after its repair failed" for cause in state.struck]
    if state.word is not None and state.word.hint:
        lines.append(f"The last hint still stands: `{act_words(state.word.act)}`.")
    return (*(lines or ["Nothing is known yet but the complaint."]), standing(played, state, whole=True))


def told(played: Round, event: Event, pictures: Pictures, before: set[str]) -> Iterator[Block]:
    """Give what came of an act. before : the cautions told so far; those told now are added."""
    match event:
        case Tested():
            yield from _tested(played, event)
        case Moved():
            yield Block(Look.SAID, f"Done: {_moves(played, event)}.", "  ")
        case Corrected():
            yield from _corrected(played, event, pictures)
        case Advised():
            came = "The advice was right." if event.right else "The car came back: that was not it."
            yield Block(Look.SAID, f"Put back, advised and handed over ({event.minutes:g} min). {came}", "  ")
        case Referred():
            yield Block(Look.SAID, f"The car is given to somebody else ({money(played, event.money)}).", "  ")
        case Hinted():
            yield from _hint(played, event)
        case Refused():
            yield Block(Look.REFUSED, f"Not possible as the car stands: {'; '.join(event.missing)}.", "! ")
        case WentWrong():
            yield from _wrong(event, before)
        case Stopped():
            yield Block(Look.SAID, "The round is given up.", "  ")
        case Dealt() | Suggested():
            return


NOISE = 5.0  # money, or 1 per cent of what the round costs on average where that is more
PERHAPS = "perhaps"
_MEANS = (
    "\"Perhaps\" means: a cheaper way was found, but the search is too short here to be certain that it leads. In your "
    "progress that counts as right; in the points it counts by this figure."
)


def judged(played: Round, scored: Decision, before: set[str]) -> Iterator[Block]:
    """Give what a decision cost beyond the best, and how far that is proven.

    before : explanations that were told so far; those told now are added.
    """
    lost, perhaps = _lost(played, scored)
    if scored.for_danger:
        against = f" {lost} But danger is not in the sum: that costs no points." if lost else ""
        yield Block(Look.TOLD, f"Looking for a danger is always right.{against}", "= ")
    elif not scored.own:
        by = "tree" if scored.as_the_tree_says else "hint"
        against = f" {lost} That is not your fault and costs no points." if lost else ""
        yield Block(Look.TOLD, f"As the {by} says.{against}", "= ")
    elif lost:
        yield Block(Look.SAID, lost, "- ")
    elif scored.regret <= RIGHT:
        yield Block(Look.TOLD, "Nothing better was found than that.", "= ")
    else:
        yield Block(Look.TOLD, "About as good as the best found.", "= ")
    if perhaps and scored.own and PERHAPS not in before:
        before.add(PERHAPS)
        yield Block(Look.SAID, _MEANS, "  ")


def _lost(played: Round, scored: Decision) -> tuple[str, bool]:
    """Return what was lost as a sentence, "" where it is nothing or too little to be told apart from nothing.

    And whether it is not proven.
    """
    proven = scored.at_least > RIGHT
    if scored.regret <= RIGHT or (not proven and scored.regret < noise(played)):
        return "", False
    begun = "About" if proven else PERHAPS.capitalize()
    lost = f"{begun} {money(played, scored.regret)} dearer" if scored.regret >= 1 else "A little dearer"
    longer = f" and {scored.regret_minutes:.0f} min longer" if scored.regret_minutes >= 1 else ""
    quicker = f", though {-scored.regret_minutes:.0f} min quicker" if scored.regret_minutes <= -1 else ""
    sure = f" (surely {scored.at_least:,.0f} to {scored.at_most:,.0f})" if proven and scored.gap >= 1 else ""
    return f"{lost}{longer} than the best found{quicker}{sure}.", not proven


def noise(played: Round) -> float:
    """Return the money below which a loss that is not proven is not worth a word."""
    case = start(played).case
    return max(NOISE, 0.01 * played.solver.known(case).upper / case.total)


def lost_words(played: Round, regret: float, minutes: float) -> str:
    """Return a loss in money and in bay minutes, as `40 EUR and 12 min`."""
    lost = money(played, max(0.0, regret))
    if minutes >= 1:
        return f"{lost} and {minutes:.0f} min"
    return f"{lost}, but saved {-minutes:.0f} min" if minutes <= -1 else lost


def money(played: Round, amount: float) -> str:
    """Return an amount in whole money of the house."""
    workshop = played.walk.library.workshop
    return f"{amount:,.0f} {workshop.currency if workshop else ''}".rstrip()


def suggested(played: Round, found: Suggestion) -> str:
    """Return the act that is due, what it is on the way to, and what the test asks."""
    kind, act = found.choice.kind.value, found.act
    way = "" if (kind, found.choice.id) == (act.kind, act.id) else f", on the way to `{act_words(act)}`"
    ask = f" ({played.walk.test(act.id or '').ask})" if act.kind == "test" else ""
    return f"{found.choice.words}{way}{ask}"


def cautions(played: Round, choice: Choice, before: set[str]) -> Iterator[Block]:
    """Give what is to be minded at a test that is due. before : cautions told so far; those told now are added."""
    minded = played.walk.test(choice.id or "").mind if choice.kind is Kind.TEST else ()
    for line in minded:
        if line not in before:
            before.add(line)
            yield Block(Look.CAUTION, line, "! ")


def cause_name(played: Round, cause: str | None) -> str:
    """Return a cause in words."""
    if cause == SOMETHING_ELSE:
        return "something else than the listed causes"
    found = played.walk.catalogue.causes.get(cause or "")
    return found.name if found is not None else str(cause)


def _tested(played: Round, event: Tested) -> Iterator[Block]:
    test = played.walk.test(event.test)
    yield Block(Look.HEADING, f"{test.ask} ({event.minutes:g} min)")
    units = {read.name: read.unit for read in test.reads}
    for name, typed in event.readings.items():
        gap = "" if typed[-1] in "kMGT" else " "
        yield Block(Look.ABOUT, f"{name.replace('_', ' ')}: {typed}{'' if typed == 'OL' else gap + units[name]}")
    if event.readings:
        yield from (Block(Look.SAID, line, "  ") for line in event.told)
    else:
        yield Block(Look.SAID, f"Answer: {event.outcome}", "  ")
        yield from (Block(Look.SAID, line, "  ") for line in event.told)
    if event.chances:
        listed = ", ".join(f"{name} {100 * chance:.0f} %" for name, chance in event.chances.items() if chance >= 0.005)
        yield Block(Look.SAID, f"Close to a limit: {listed}.", "  ")
    if event.outcome in test.stop:
        yield Block(Look.CAUTION, _DANGER, "! ")


def _hint(played: Round, event: Hinted) -> Iterator[Block]:
    yield from advice(played, event.words)
    again = "That was told already: no charge." if not event.minutes else ""
    yield Block(Look.SAID, again or f"The hint cost {money(played, event.money)}.", "  ")


def advice(played: Round, words: str, before: str = "") -> Iterator[Block]:
    """Give what is best: what to do in one line, each reason in its own."""
    act, _, why = words.partition(": ")
    test = act.removeprefix("test ")
    asked = f" ({played.walk.test(test).ask})" if test in played.walk.catalogue.tests else ""
    yield Block(Look.SAID, f"{before}{act}{asked}", "  ")
    yield from (Block(Look.SAID, reason.removesuffix("."), "    ") for reason in why.split("; "))
    if test in played.walk.catalogue.tests:
        yield from (Block(Look.CAUTION, line, "    ! ") for line in played.walk.test(test).mind)


def _moves(played: Round, event: Moved) -> str:
    words = []
    for move, access, minutes in event.moves:
        name = played.walk.catalogue.access[access].name if access else ""
        if move == "make-safe":
            words.append(f"made safe, all steps, absence of voltage proven ({minutes:g} min)")
        elif not access:
            words.append(f"re-energised ({minutes:g} min)")
        else:
            words.append(f"{'opened' if move == 'open' else 'closed'} {name} ({minutes:g} min)")
    return "; ".join(words)


def _corrected(played: Round, event: Corrected, pictures: Pictures) -> Iterator[Block]:
    correction = played.walk.catalogue.causes[event.cause].correction
    what = correction.do if correction is not None else event.cause
    yield Block(Look.HEADING, f"{what} ({event.minutes:g} min with the proof, {money(played, event.money)})")
    power = [value for _, value, _ in event.samples]
    most = max((value for value in power if value is not None), default=0.0)
    if most > 0:
        last = event.samples[-1][0]
        course = pictures.course(power, 0.0, most)
        yield Block(Look.ABOUT, f"Charging power over {last:g} min, up to {most:.3g} kW: {course}")
    warm = [value for _, _, value in event.samples if value is not None]
    if len(warm) > 1:
        yield Block(
            Look.ABOUT,
            f"Hottest contact of the inlet, {warm[0]:.0f} to {max(warm):.0f} degC: "
            f"{pictures.course([value for _, _, value in event.samples], min(warm), max(warm))}",
        )
    if event.fixed:
        yield Block(Look.TOLD, "It charges through. The complaint does not show any more.", "= ")
    else:
        ended = "cuts out" if event.cut_out is None else f"cuts out after {event.cut_out:.0f} min"
        if event.cut_out is not None and event.cut_out < 0.5:
            ended = "does not begin to charge"
        yield Block(Look.REFUSED, f"It {ended}: that was not it, or not all of it.", "! ")


def _wrong(event: WentWrong, before: set[str]) -> Iterator[Block]:
    yield Block(Look.REFUSED, "UNSAFE.", "! ")
    yield from (Block(Look.REFUSED, line, "! ") for line in event.told)
    missed = [line for line in event.missed if line not in before]
    before.update(missed)
    for number, line in enumerate(missed):
        yield Block(Look.CAUTION, f"{'Passed by: ' if number == 0 else ''}{line}", "  ")
