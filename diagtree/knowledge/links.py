"""Names that lead nowhere: what refers to something that does not exist, or says less than it must."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping

from diagtree.knowledge.access_order import closure
from diagtree.knowledge.fields import Findings, did_you_mean
from diagtree.knowledge.limits import Expression
from diagtree.knowledge.place import Place, Places
from diagtree.knowledge.words import (
    MAKE_SAFE,
    NOT_DONE,
    SOMETHING_ELSE,
    Access,
    Catalogue,
    Cause,
    Conclude,
    HandOver,
    Needs,
    Power,
    Step,
    Test,
    Tree,
    Where,
)

NOWHERE: Places = {}


def link_access(catalogue: Catalogue, findings: Findings) -> None:
    """Add a finding for every name that leads nowhere in accesses and procedures, and every ring among accesses."""
    for access in catalogue.access.values():
        where = f"`after` of access `{access.id}`"
        _names(access.after, catalogue.access, "access", where, access.at, findings, access.places, "after")
    _rings(catalogue.access, findings)
    for procedure in catalogue.procedures.values():
        where = f"`open` of procedure `{procedure.id}`"
        _names(procedure.open, catalogue.access, "access", where, procedure.at, findings, procedure.places, "open")
        for step in procedure.steps:
            for key, expression in (("minutes", step.minutes), ("below", step.below)):
                at = step.places.get(key, step.at)
                _expression(expression, (), f"`{key}` of a step of `{procedure.id}`", at, findings)
    _dead_only_for_making_safe(catalogue, findings)


def link_tree(tree: Tree, catalogue: Catalogue, trees: Collection[str], findings: Findings) -> None:
    """Add a finding for every name in the tree that leads nowhere, and every outcome without a branch."""
    for cause, at in tree.causes_at.items():
        if cause != SOMETHING_ELSE:
            _names((cause,), catalogue.causes, "cause", "`causes`", at, findings)
    for step in tree.steps.values():
        test = catalogue.tests.get(step.test)
        if test is None:
            hint = did_you_mean(step.test, catalogue.tests)
            at = step.places.get("test", step.at)
            findings.error("unknown-test", at, f"step `{step.id}`: there is no test `{step.test}`{hint}")
        else:
            _branches(step, test, findings)
        for outcome, target in step.then.items():
            at = step.places.get(f"then.{outcome}", step.then_at[outcome])
            if isinstance(target, str):
                _names((target,), tree.steps, "step", f"`{outcome}` of step `{step.id}`", at, findings)
            elif isinstance(target, Conclude):
                _concluded(target.cause, tree, step, at, findings)
            elif isinstance(target, HandOver) and target.tree not in trees:
                hint = did_you_mean(target.tree, trees) or f"; trees here: {', '.join(sorted(trees))}"
                said = f"step `{step.id}` hands over to `{target.tree}`: there is no tree of this name{hint}"
                findings.error("unknown-tree", at, said)


def _concluded(cause: str, tree: Tree, step: Step, at: Place, findings: Findings) -> None:
    if not tree.causes:  # the reader tells that there is no list
        return
    if cause == SOMETHING_ELSE:
        findings.error("reserved-word", at, f"`{SOMETHING_ELSE}` cannot be concluded; use `{{refer: TO WHOM}}`")
    else:
        _names((cause,), tree.causes, "cause", f"`conclude` in step `{step.id}` (the tree's `causes:`)", at, findings)


def _branches(step: Step, test: Test, findings: Findings) -> None:
    if not test.outcomes or "then" not in step.places:  # the reader tells what lacks
        return
    for outcome in test.outcomes:
        if outcome.id not in step.then and f"then.{outcome.id}" not in step.places:
            said = f"step `{step.id}` has no branch for `{outcome.id}`; write `{outcome.id}:` under its `then:`"
            findings.error("outcome-without-branch", step.at, said)
    known = [*test.outcome_ids(), NOT_DONE]
    for outcome_id, at in step.then_at.items():
        if outcome_id not in known:
            hint = did_you_mean(outcome_id, known) or f"; it has {', '.join(known)}"
            findings.error(
                "branch-without-outcome", at, f"step `{step.id}`: test `{test.id}` has no outcome `{outcome_id}`{hint}"
            )
    for outcome_id in test.stop:
        target = step.then.get(outcome_id)
        if isinstance(target, str):
            findings.error(
                "stop-goes-on",
                step.then_at[outcome_id],
                f"step `{step.id}`: `{outcome_id}` is a danger that stops the job; its branch must be an ending",
            )
    if test.stop and NOT_DONE in step.then:
        findings.warning(
            "stop-not-done",
            step.then_at[NOT_DONE],
            f"step `{step.id}` asks after a danger: `{NOT_DONE}` is never taken there; take the branch out",
        )


def link_test(test: Test, catalogue: Catalogue, findings: Findings) -> None:
    """Add a finding for every name in a test that leads nowhere."""
    where = f"test `{test.id}`"
    _needs(test.needs, catalogue.access, where, test.at, findings)
    readings = tuple(read.name for read in test.reads)
    at = test.places.get("expected", test.at)
    _expression(test.expected, readings, f"`expected` of {where}", at, findings)
    named = (*readings, "expected") if test.expected else readings
    at = test.places.get("judge", test.at)
    _expression(test.judge, named, f"`judge` of {where}", at, findings)
    for outcome in test.outcomes:
        _expression(outcome.below, named, f"the limit of `{outcome.id}` of {where}", outcome.at, findings)
    if test.place is Where.ROAD and test.needs.open:
        findings.error("open-on-the-road", test.at, f"{where} is done on the road: nothing may be open there")


def link_cause(cause: Cause, catalogue: Catalogue, findings: Findings) -> None:
    """Add a finding for every name in a cause that leads nowhere."""
    where = f"cause `{cause.id}`"
    for test_id, shown in cause.shows.items():
        test = catalogue.tests.get(test_id)
        if test is None:
            hint = did_you_mean(test_id, catalogue.tests)
            at = cause.places.get(f"shows.{test_id}", cause.at)
            findings.error("unknown-test", at, f"`shows` of {where}: there is no test `{test_id}`{hint}")
            continue
        known = test.outcome_ids()
        for outcome in shown if known else ():  # without any the reader has told it
            if outcome not in known:
                hint = did_you_mean(outcome, known) or f"; it has {', '.join(known)}"
                at = cause.places.get(f"shows.{test_id}.{outcome}", cause.at)
                findings.error(
                    "unknown-outcome", at, f"`shows` of {where}: `{test_id}` has no outcome `{outcome}`{hint}"
                )
    if cause.correction:
        _needs(cause.correction.needs, catalogue.access, f"correction of {where}", cause.correction.at, findings)


def _needs(needs: Needs, access: Mapping[str, Access], where: str, at: Place, findings: Findings) -> None:
    _names(needs.open, access, "access", f"`open` of {where}", at, findings, needs.places, "open")
    if needs.power is Power.LIVE:
        for access_id in sorted(closure(needs.open, access)):
            if access[access_id].dead_only or access[access_id].refit_before_live:
                findings.error(
                    "live-needs-closed",
                    at,
                    f"{where} needs the car live with `{access_id}` open, which may not be open on a live car",
                )


def _expression(
    expression: Expression | None, names: Collection[str], where: str, at: Place, findings: Findings
) -> None:
    for name in expression.names if expression else ():
        if name not in names and not name.startswith("vehicle."):
            known = (*names, "vehicle.…") if names else ("vehicle.…",)
            hint = did_you_mean(name, names) or f"; known here: {', '.join(known)}"
            findings.error("unknown-name", at, f"{where} uses `{name}`, which is no reading{hint}")


def _names(
    wanted: Iterable[str],
    known: Collection[str],
    kind: str,
    where: str,
    at: Place,
    findings: Findings,
    places: Places = NOWHERE,
    key: str = "",
) -> None:
    """Say which of the `wanted` names is not `known`, at its place under `key` in `places`, else at `at`."""
    for name in wanted:
        if name not in known:
            there = places.get(f"{key}.{name}", places.get(key, at))
            findings.error(f"unknown-{kind}", there, f"{where}: there is no {kind} `{name}`{did_you_mean(name, known)}")


def _rings(access: Mapping[str, Access], findings: Findings) -> None:
    for access_id, item in access.items():
        if access_id in closure(item.after, access):
            findings.error(
                "access-ring", item.at, f"access `{access_id}` is `after` itself, by way of what it is after"
            )


def _dead_only_for_making_safe(catalogue: Catalogue, findings: Findings) -> None:
    make_safe = catalogue.procedures.get(MAKE_SAFE)
    for access_id in sorted(closure(make_safe.open, catalogue.access)) if make_safe else ():
        if make_safe and catalogue.access[access_id].dead_only:
            findings.error(
                "make-safe-opens-dead-only",
                make_safe.at,
                f"making safe opens `{access_id}`, which may be open only on a dead car: there is no way to begin",
            )
