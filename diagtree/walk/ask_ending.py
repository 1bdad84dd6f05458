"""The prompts at an ending: a named cause, a hand-over, a referral, a danger, what remains."""

from __future__ import annotations

from diagtree.errors import WrongUse
from diagtree.knowledge.words import OUTSIDE, SOMETHING_ELSE, Cause, Conclude, Ending, HandOver, Refer
from diagtree.reason.evidence import Belief
from diagtree.reason.evidence_words import arguments, doubt_words
from diagtree.walk import cautions
from diagtree.walk.context import Walk
from diagtree.walk.dangers import BY_ID, STAND_BACK
from diagtree.walk.events import GO_ON
from diagtree.walk.prompts import Choice, Kind, Option, Prompt, Tick
from diagtree.walk.route import Route, belief, evidence_here
from diagtree.walk.state import State


def danger_prompt(walk: Walk, key: str) -> Prompt:
    """Return the danger in full, to be acknowledged with a typed word."""
    danger = BY_ID.get(key)
    what = danger.text if danger else walk.test(key).ask
    technician = "Call: a qualified high-voltage technician."
    warned = danger.stops if danger else (*STAND_BACK, *walk.test(key).mind, technician)
    return Prompt(
        kind=Kind.DANGER,
        key=key,
        heading="DANGER: the work stops here",
        ask=f"Found: {what}. Read every line above, then type `stopped`.",
        form=Tick(word="stopped"),
        cautions=(*warned, cautions.LAW_FIRST),
    )


def ending_prompt(walk: Walk, state: State, found: Route, ending: Ending) -> Prompt:
    """Return the prompt of an ending that was reached."""
    if isinstance(ending, Conclude):
        return _conclusion(walk, state, found, walk.catalogue.causes[ending.cause])
    if isinstance(ending, HandOver):
        return _hand_over(walk, ending)
    return _refer(walk, found, ending)


def percent(chance: float) -> str:
    """Return a chance in words that fit a screen: `78 %`, `under 1 %`, `over 99 %`."""
    if chance < 0.01:
        return "under 1 %"
    return "over 99 %" if chance > 0.99 else f"{100 * chance:.0f} %"


def cause_name(walk: Walk, cause: str) -> str:
    """Return a cause in words."""
    return "something else, not in this tree" if cause == SOMETHING_ELSE else walk.catalogue.causes[cause].name


def ranking(walk: Walk, beliefs: Belief, most: int = 5) -> tuple[str, ...]:
    """Return the likeliest causes with their chances, a line each."""
    ranked = [item for item in beliefs.ranked() if item[1] > 0]
    lines = [f"{percent(chance)}: {cause_name(walk, cause)}" for cause, chance in ranked[:most]]
    if len(ranked) > most:
        lines.append(f"{percent(sum(chance for _, chance in ranked[most:]))}: {len(ranked) - most} others together")
    return tuple(lines)


def doubts(beliefs: Belief) -> tuple[str, ...]:
    """Return what to know about the evidence itself: answers that no listed cause allows."""
    found = doubt_words(beliefs)
    return (found,) if found else ()


def _conclusion(walk: Walk, state: State, found: Route, cause: Cause) -> Prompt:
    beliefs = belief(walk, found)
    sure = beliefs.chances.get(cause.id, 0.0)
    about = [
        f"How sure: {percent(sure)} by the evidence of this case.",
        *doubts(beliefs),
        *ranking(walk, beliefs),
    ]
    about += _against(walk, found, cause)
    options = []
    warned: list[str] = []
    if cause.correction is not None and cause.proof is not None:
        about += correction_lines(walk, found, cause)
        warned = [cautions.HIGH_VOLTAGE, cautions.LAW_FIRST, *cause.correction.mind]
        options.append(Option("correct", "correct this cause now"))
    elif cause.advise is not None:
        about += [f"Advice: {cause.advise.do}", *owner_words(cause)]
        options.append(Option("advise", "give this advice, put the car back together and end the case"))
    options.append(Option("remaining", "look at the other causes and the tests not yet done"))
    options.append(Option("refer", "give the car to somebody else"))
    return Prompt(
        kind=Kind.CONCLUSION,
        key=cause.id,
        heading="Conclusion",
        ask=f"Cause: {cause.name}. What now?",
        form=Choice(tuple(options)),
        about=tuple(about),
        cautions=tuple(dict.fromkeys(warned)),
        did_not=state.arrangement.dead,
    )


def _against(walk: Walk, found: Route, cause: Cause) -> list[str]:
    shares = walk.tree_of(found.tree).causes
    if cause.id not in shares:
        return []
    said = arguments(cause.id, shares, evidence_here(walk, found), walk.catalogue, struck=found.struck)
    against = [argument.words for argument in said if argument.ratio < 0.9]
    return [f"Against it: {words}." for words in against[:3]] or ["Nothing that was seen speaks against it."]


def correction_lines(walk: Walk, found: Route, cause: Cause) -> tuple[str, ...]:
    """Return the work list: what to do, parts, minutes, access, and how long the proof must be."""
    correction = cause.correction
    assert correction is not None
    money = walk.library.workshop.currency if walk.library.workshop else ""
    lines = [f"Correction: {correction.do} ({correction.minutes:g} min)"]
    lines += [f"Part: {part.name}, {part.price:g} {money}".rstrip() for part in correction.parts]
    opened = walk.layout.put_back(walk.layout.closure(correction.needs.open))[::-1]
    if opened:
        lines.append("Access: " + ", ".join(walk.catalogue.access[item].name for item in opened))
    lines.append(f"Power: {correction.needs.power.value}")
    minutes, reason = proof_minutes(found, cause)
    assert cause.proof is not None
    lines.append(f"Proof: {cause.proof.charge.upper()} charge of at least {minutes:g} min{reason}")
    return tuple(lines)


def proof_minutes(found: Route, cause: Cause) -> tuple[float, str]:
    """Return how long the proof must run, and why where the owner's time sets it. [min]"""
    proof = cause.proof
    assert proof is not None
    owner = found.complained.cuts_out_after if found.complained else None
    if owner is not None and owner > proof.minutes:
        return owner, f" (the owner's time to cut-out; the catalogue says {proof.minutes:g})"
    return proof.minutes, ""


def owner_words(cause: Cause) -> tuple[str, ...]:
    """Return the words for the owner where the cause lies outside the car or the house."""
    outside = cause.where == OUTSIDE
    where = "outside the car" if outside else "to what this workshop does not repair"
    proven = " Nothing was proven about the car itself." if outside else ""
    return (
        f"For the owner: the tests of today point {where}: {cause.name}.{proven}",
        "For the owner: take the readings on this record along to whoever does the work.",
    )


def _hand_over(walk: Walk, ending: HandOver) -> Prompt:
    tree = walk.tree_of(ending.tree)
    return Prompt(
        kind=Kind.HAND_OVER,
        key=ending.tree,
        heading="Another complaint",
        ask=f"This is a matter for the tree `{tree.title}`. Go on there?",
        form=Choice(
            (Option(GO_ON, "go on there; nothing is asked twice"), Option("refer", "give the car to somebody else"))
        ),
        about=("What was answered so far is carried over.",),
    )


def _refer(walk: Walk, found: Route, ending: Refer) -> Prompt:
    beliefs = belief(walk, found)
    return Prompt(
        kind=Kind.REFER,
        key=ending.to,
        heading="Out of this house",
        ask=f"Refer the car to: {ending.to}. What now?",
        form=Choice(
            (Option("refer", "leave the car set apart and refer it"),)
            if found.danger
            else (
                Option("refer", "put the car back together and refer it"),
                Option("remaining", "look at the causes and the tests not yet done"),
            )
        ),
        about=(
            *doubts(beliefs),
            *ranking(walk, beliefs),
            "Give them the record of this case: every reading with its limit, and what was ruled out.",
            f"For the owner: this needs {ending.to}; until then follow the safety advice on the record.",
        ),
    )


def refer_target(found: Route) -> str:
    """Return to whom the car goes."""
    return found.ending.to if isinstance(found.ending, Refer) else "a specialist workshop"


def remaining_prompt(walk: Walk, found: Route) -> Prompt:
    """Return what is left after a correction in vain: the ranked causes, and the tests that could still part them."""
    beliefs = belief(walk, found)
    options: list[Option] = []
    for cause_id, chance in beliefs.ranked():
        cause = walk.catalogue.causes.get(cause_id)
        if cause is None or cause_id in found.struck or chance <= 0:
            continue
        verb = "correct" if cause.correction else "advise"
        options.append(Option(f"{verb}:{cause_id}", f"{verb} {cause.name} ({percent(chance)})"))
    for test_id in untried(walk, found):
        test = walk.test(test_id)
        options.append(Option(f"test:{test_id}", f"test: {test.ask} ({test.minutes:g} min)"))
    if found.step is not None:
        options.append(Option("tree", "go on with the tree where it was left"))
    options.append(Option("refer", "give the car to somebody else"))
    return Prompt(
        kind=Kind.REMAINING,
        key=found.tree,
        heading="What remains",
        ask="Which cause or test next?",
        form=Choice(tuple(options)),
        about=(*doubts(beliefs), *ranking(walk, beliefs)),
    )


def untried(walk: Walk, found: Route) -> tuple[str, ...]:
    """Return the tests of this tree's plan that were not answered and can still part the causes alive."""
    from diagtree.reason.evidence import can_part
    from diagtree.reason.problem import planned_tests

    beliefs = belief(walk, found)
    answered = {item.test for item in found.evidence}
    tree = walk.tree_of(found.tree)
    return tuple(
        test_id
        for test_id in planned_tests(tree, walk.catalogue)
        if test_id not in answered and can_part(beliefs.chances, walk.test(test_id), walk.catalogue)
    )


def cause_of(walk: Walk, cause: str) -> Cause:
    """Return a cause of the catalogue. Raises WrongUse for something-else and unknown names."""
    found = walk.catalogue.causes.get(cause)
    if found is None:
        raise WrongUse(f"there is no cause `{cause}` to act on")
    return found
