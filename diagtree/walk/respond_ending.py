"""Answers to the prompts at an ending: decisions, the correction, the proof and its result."""

from __future__ import annotations

from collections.abc import Callable

from diagtree.errors import AnswerError
from diagtree.walk.ask_correction import proof_falls_short
from diagtree.walk.ask_ending import cause_of, refer_target
from diagtree.walk.events import (
    GO_ON,
    ChargeAgain,
    Corrected,
    Decided,
    Event,
    Noted,
    ProofCharged,
    ProofJudged,
    TestChosen,
)
from diagtree.walk.prompts import Field, Fields, Kind
from diagtree.walk.respond_work import Reply, minutes_typed, number_typed
from diagtree.walk.route import route
from diagtree.walk.watched import asked_back, seen, without_sure

_ALWAYS = ("minutes", "watched", "power", "cut_out")  # asked at every proof, whatever else is watched


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
    return (Decided(reply.at, GO_ON, reply.prompt.key),)


def _refer(reply: Reply) -> tuple[Event, ...]:
    if reply.option == "remaining":
        return (Decided(reply.at, "remaining", reply.prompt.key),)
    return (Decided(reply.at, "refer", reply.prompt.key),)


def _correction(reply: Reply) -> tuple[Event, ...]:
    done: tuple[Event, ...] = (Corrected(reply.at, reply.prompt.key),)
    return (*done, Noted(reply.at, reply.says, f"correct:{reply.prompt.key}")) if reply.says.strip() else done


def _proof(reply: Reply) -> tuple[Event, ...]:
    values, form = reply.values, reply.prompt.form
    assert isinstance(form, Fields)
    minutes, watched = minutes_typed(values["minutes"]), minutes_typed(values["watched"])
    if watched > minutes:
        raise AnswerError(f"watched for {watched:g} min of a charge of {minutes:g} min: type how it really was")
    fields = {field.name: field for field in form.fields}
    power = _power(fields["power"], values["power"])
    found = seen(tuple(fields[name] for name in fields if name not in _ALWAYS), values)
    cut_out = values["cut_out"].lower() == "yes"
    return (ProofCharged(reply.at, reply.prompt.key, minutes, watched, power, cut_out, found),)


def _power(field: Field, text: str) -> str:
    number, sure = without_sure(field, text)
    power = number_typed(number, "kW", "power")
    question = asked_back(field, number, power)
    if question and not sure:
        raise AnswerError(f"power: {question}")
    return f"{power:g} kW" + (f" ({field.most_says}; asked back: typed right)" if question else "")


def _proof_result(reply: Reply) -> tuple[Event, ...]:
    cause = cause_of(reply.walk, reply.prompt.key)
    if reply.option == "again":
        return (ChargeAgain(reply.at, cause.id),)
    if reply.option == "fixed":
        short = proof_falls_short(reply.walk, route(reply.walk, reply.state), cause, reply.state)
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
