"""Answers to the prompts at an ending: decisions, the correction, the proof and its result."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.errors import AnswerError
from diagtree.walk.ask_correction import proof_falls_short
from diagtree.walk.ask_ending import cause_of, refer_target
from diagtree.walk.events import ChargeAgain, Corrected, Decided, Event, Noted, ProofCharged, ProofJudged, TestChosen
from diagtree.walk.prompts import Kind
from diagtree.walk.respond_work import Reply, minutes_typed, number_typed
from diagtree.walk.route import route


def _danger(reply: Reply) -> tuple[Event, ...]:
    return (Decided(reply.at, "read-danger", reply.prompt.key),)


def _conclusion(reply: Reply) -> tuple[Event, ...]:
    if reply.option in ("correct", "advise"):
        return (Decided(reply.at, reply.option, reply.prompt.key),)
    if reply.option == "refer":
        return (Decided(reply.at, "refer", refer_target(route(reply.walk, reply.state))),)
    return (Decided(reply.at, "remaining", reply.prompt.key),)


def _hand_over(reply: Reply) -> tuple[Event, ...]:
    if reply.option == "refer":
        return (Decided(reply.at, "refer", refer_target(route(reply.walk, reply.state))),)
    return (Decided(reply.at, "go-on", reply.prompt.key),)


def _refer(reply: Reply) -> tuple[Event, ...]:
    if reply.option == "remaining":
        return (Decided(reply.at, "remaining", reply.prompt.key),)
    return (Decided(reply.at, "refer", reply.prompt.key),)


def _correction(reply: Reply) -> tuple[Event, ...]:
    done: tuple[Event, ...] = (Corrected(reply.at, reply.prompt.key),)
    return (*done, Noted(reply.at, reply.says, f"correct:{reply.prompt.key}")) if reply.says.strip() else done


def _proof(reply: Reply) -> tuple[Event, ...]:
    values = reply.values
    known = ("minutes", "watched", "power", "cut_out")
    minutes, watched = minutes_typed(values["minutes"]), minutes_typed(values["watched"])
    if watched > minutes:
        raise AnswerError(f"watched for {watched:g} min of a charge of {minutes:g} min: type how it really was")
    power = number_typed(values["power"], "kW", "power")
    seen = {name: text for name, text in values.items() if name not in known}
    return (
        ProofCharged(
            reply.at, reply.prompt.key, minutes, watched, f"{power:g} kW", values["cut_out"].lower() == "yes", seen
        ),
    )


def _proof_result(reply: Reply) -> tuple[Event, ...]:
    cause = cause_of(reply.walk, reply.prompt.key)
    if reply.option == "again":
        return (ChargeAgain(reply.at, cause.id),)
    if reply.option == "fixed":
        short = proof_falls_short(route(reply.walk, reply.state), cause, reply.state)
        if short:
            raise AnswerError(short)
    return (ProofJudged(reply.at, cause.id, reply.option),)


def _remaining(reply: Reply) -> tuple[Event, ...]:
    what, _, key = reply.option.partition(":")
    if what == "tree":
        return (Decided(reply.at, "tree", reply.prompt.key),)
    if what == "test":
        return (TestChosen(reply.at, key),)
    if what == "refer":
        return (Decided(reply.at, "refer", refer_target(route(reply.walk, reply.state))),)
    return (Decided(reply.at, what, key),)


ANSWERS_ENDING: dict[Kind, Callable[[Reply], tuple[Event, ...]]] = {
    Kind.DANGER: _danger,
    Kind.CONCLUSION: _conclusion,
    Kind.HAND_OVER: _hand_over,
    Kind.REFER: _refer,
    Kind.CORRECTION: _correction,
    Kind.PROOF: _proof,
    Kind.PROOF_RESULT: _proof_result,
    Kind.REMAINING: _remaining,
}
