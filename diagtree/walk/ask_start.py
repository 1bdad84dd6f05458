"""The prompts with which every walk begins, and the one that stops it: voltage where there must be none."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from diagtree.knowledge.words import TRIAGE
from diagtree.walk import cautions
from diagtree.walk.absence import AbsenceVerdict, Pair, measure
from diagtree.walk.context import Walk
from diagtree.walk.dangers import BY_ID, DANGERS, NOTHING, STAND_BACK
from diagtree.walk.hearing import dangers_said, heard, words_before
from diagtree.walk.prompts import Choice, Field, Fields, Kind, Option, Prompt
from diagtree.walk.route import Route
from diagtree.walk.state import State

if TYPE_CHECKING:
    from diagtree.reason.complaint_words import Heard
    from diagtree.walk.danger_words import Told
    from diagtree.walk.events import AbsenceMeasured

ISOLATED = "isolated"
QUESTIONS = "questions"
LOOK_AGAIN = "look-again"  # key of the look that the owner's words ask for
CLEAR_WORDS, UNCLEAR_WORDS = "clear-words", "unclear-words"  # keys of the prompt that sorts


def look_prompt(state: State) -> Prompt:
    """Return the first look at dangers: before anything is plugged in, opened or driven."""
    told = dangers_said(words_before(state), None)
    return Prompt(
        kind=Kind.LOOK,
        key="look",
        heading="Look first",
        ask="Look at the car, the inlet, the plug and the cable. Is there any of this?",
        form=Choice(
            (Option(NOTHING, "nothing of this kind"), *(Option(item.id, item.text, danger=True) for item in DANGERS))
        ),
        about=(
            *((f"The owner says {_quoted(told)}: ask about that first.",) if told else ()),
            "Look, smell, ask the owner. Touch nothing orange. Do not plug in yet.",
        ),
        cautions=(cautions.HIGH_VOLTAGE, cautions.LAW_FIRST),
    )


def look_again_prompt(told: tuple[Told, ...]) -> Prompt:
    """Return the question for the dangers that the owner's words tell of, though the look found nothing."""
    dangers = tuple(Option(one.danger, BY_ID[one.danger].text, danger=True) for one in told)
    return Prompt(
        kind=Kind.LOOK,
        key=LOOK_AGAIN,
        heading="Look once more",
        ask=f"The owner says {_quoted(told)}. Is there, or was there, any of this?",
        form=Choice((Option(NOTHING, "asked and looked: nothing of this kind", danger=True), *dangers)),
        about=(
            "The first look found nothing. Ask the owner what the words mean; what was there and is gone counts.",
            "Type the word in full. Where in doubt, type the danger's.",
        ),
        cautions=(cautions.HIGH_VOLTAGE, cautions.LAW_FIRST),
    )


def _quoted(told: tuple[Told, ...]) -> str:
    return ", ".join(dict.fromkeys(f"`{word}`" for one in told for word in one.words))


MINUTES = Field(
    "cuts_out_after", "minutes until it stops, where the owner knows", "minute", optional=True, counts=True
)
DESK_QUESTIONS = (
    Field("since", "since when, and what changed then", number=False, optional=True),
    Field("shown", "message or light, word for word", number=False, optional=True),
    Field("charged_with", "charged where, with which cable", number=False, optional=True),
)
"""What else the owner is asked before the car goes to the bay; kept in the owner's words for the technician."""


def complaint_prompt(walk: Walk) -> Prompt:
    """Return the questions about the complaint itself; all may be skipped. More are asked at the desk."""
    return Prompt(
        kind=Kind.COMPLAINT,
        key="complaint",
        heading="The complaint",
        ask="What does the owner say, in the owner's words?",
        form=Fields(
            (
                Field("words", "the owner's words", number=False, optional=True),
                MINUTES,
                *(DESK_QUESTIONS if walk.tree == TRIAGE else ()),
            )
        ),
        about=(
            "Wrong terms and all, as it is said. What nobody knows is left out."
            if walk.tree == TRIAGE
            else "The proof of a fix runs at least as long as it took to cut out.",
        ),
    )


MOST_HEARD = 4  # complaints that are offered from the owner's words
NEAR = 0.3  # how likely a complaint must be to be offered beside the likeliest
CLEAR = 2.0  # how much likelier than the next the first must be to be called clear: 3 of 100 such are wrong


def sort_prompt(walk: Walk, found: Route) -> Prompt:
    """Return the complaints that the owner's words may mean, likeliest first, to be confirmed or put aside."""
    words = found.complained.words if found.complained else ""
    likely = heard(walk, words)
    near = [one for one in likely[:MOST_HEARD] if one.likeness >= NEAR * likely[0].likeness]
    shared = [word for word in near[0].words if all(word in one.words for one in near)] if len(near) > 1 else []
    options = [Option(one.tree, _heard_text(walk, one, shared)) for one in near]
    options.append(Option(QUESTIONS, "none of these, or not sure: ask the owner a few questions instead"))
    clear = is_clear(likely)
    told = "The first is clearly the likeliest." if clear else "The words do not decide: read the likely ones out."
    return Prompt(
        kind=Kind.SORT,
        key=CLEAR_WORDS if clear else UNCLEAR_WORDS,
        heading="Which complaint is it?",
        ask="Which does the owner mean? Let the owner confirm it.",
        form=Choice(tuple(options)),
        about=(f"The owner said: {words}", told, *((f"Heard in all of them: {_marked(shared)}.",) if shared else ())),
    )


def _heard_text(walk: Walk, one: Heard, shared: Sequence[str]) -> str:
    """Return a complaint with the words that speak for it rather than for all that are offered."""
    own = [word for word in one.words if word not in shared]
    heard_in = f": heard in {_marked(own)}" if own else ""
    return f"{walk.library.trees[one.tree].title} ({one.tree}){heard_in}"


def _marked(words: Sequence[str]) -> str:
    return ", ".join(f"`{word}`" for word in words)


def is_clear(likely: tuple[Heard, ...]) -> bool:
    """Return whether the words say which complaint it is: the first is far likelier than the second."""
    return bool(likely) and (len(likely) == 1 or likely[0].likeness >= CLEAR * likely[1].likeness)


def already_prompt(walk: Walk) -> Prompt:
    """Return the question what is open or isolated before the work begins."""
    options = [Option(NOTHING, "nothing: closed and not isolated")]
    options.append(Option(ISOLATED, "somebody says that the car is isolated already (it will be proven all the same)"))
    options += [Option(item.id, f"{item.name} is open or off") for item in walk.catalogue.access.values()]
    return Prompt(
        kind=Kind.ALREADY,
        key="already",
        heading="Before you begin",
        ask="What is already open, removed or isolated on this car? Name all that is, with commas.",
        form=Choice(tuple(options), many=True),
        about=("What others did counts only when it is seen; an isolation counts only when it is proven.",),
        cautions=(cautions.COUNTS_AS_LIVE, cautions.LAW_FIRST),
    )


def voltage_found_prompt(walk: Walk, state: State) -> Prompt:
    """Return the stop that nothing goes past: repeat the proof, or leave the car isolated and refer it."""
    shown: list[str] = []
    for number, measured in enumerate(state.absences, start=1):
        shown.append(f"Measurement {number}: {'; '.join(_measured_words(walk, measured))}")
    advice = "It did not fall: something feeds it, or the meter is wrong. Do not go on." if _not_falling(state) else ""
    return Prompt(
        kind=Kind.VOLTAGE_FOUND,
        key="absence",
        heading="DANGER: voltage, or not enough certainty that there is none",
        ask="The work stops here. Type one of these words in full.",
        form=Choice(
            (
                Option("repeat", "wait, prove the tester again, measure again", danger=True),
                Option("isolated", "leave the car isolated as it is, with barrier and sign, and refer it", danger=True),
            )
        ),
        about=(*shown, *((advice,) if advice else ())),
        cautions=(cautions.COUNTS_AS_LIVE, *STAND_BACK[2:], cautions.LAW_FIRST),
        did_not=True,
    )


def _measured_words(walk: Walk, measured: AbsenceMeasured) -> list[str]:
    """Return what each pair showed; with the uncertainty where only that reaches the limit, or 24.5 seems below 25."""
    wanted = tuple(Pair(*one) for one in zip(measured.between, measured.limits, strict=True))
    rows = zip(measure(walk, wanted, measured.readings), measured.readings, strict=True)
    return [f"{one.pair.points} {_sum_words(one, text)}; must be below {one.pair.limit:g} V" for one, text in rows]


def _sum_words(one: AbsenceVerdict, text: str) -> str:
    shown = abs(one.reading.value)
    if one.proven or shown >= one.pair.limit:
        return f"{text} V"
    return f"{text} V and the meter's uncertainty U = {one.expanded:.2g} V make {shown + one.expanded:.3g} V"


def _not_falling(state: State) -> bool:
    """Whether the last reading that failed is no lower than the one before it, pair by pair."""
    failed = [item for item in state.absences if not item.proven]
    if len(failed) < 2 or failed[-1].between != failed[-2].between:
        return False
    return any(
        _volts(after) >= _volts(before) and _volts(after) >= limit
        for before, after, limit in zip(failed[-2].readings, failed[-1].readings, failed[-1].limits, strict=True)
    )


def _volts(text: str) -> float:
    try:
        return abs(float(text.replace(",", ".").strip()))
    except ValueError:
        return float("inf")
