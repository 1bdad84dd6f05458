"""What of a tree's causes, tests and accesses is otherwise on each car than as written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from diagtree.knowledge.access_order import closure
from diagtree.knowledge.words import SOMETHING_ELSE, Access, Catalogue, Cause, Test, Tree
from diagtree.report.job.markdown import escape


def differences(tree: Tree, written: Catalogue, cars: Mapping[str, Catalogue]) -> Iterator[str]:
    """Give the section, car by car; nothing where there are no cars."""
    if not cars:
        return
    yield "## On each car"
    for car, catalogue in cars.items():
        name = catalogue.vehicle.name if catalogue.vehicle else car
        lines = tuple(_lines(tree, written, catalogue))
        yield ""
        yield f"**{escape(name)}** (`{car}`){'' if lines else ': as written.'}"
        if lines:
            yield ""
            yield from (f"- {line}" for line in lines)


def _lines(tree: Tree, written: Catalogue, here: Catalogue) -> Iterator[str]:
    tests = dict.fromkeys(step.test for step in tree.steps.values())
    causes = [name for name in tree.causes if name != SOMETHING_ELSE]
    for name in causes:
        yield from _told(f"cause `{name}`", _of_cause(written.causes[name]), _of_cause(here.causes[name]))
    for name in tests:
        yield from _told(f"test `{name}`", _of_test(written.tests[name]), _of_test(here.tests[name]))
    for name in _opened(tree, here):
        before = written.access.get(name)
        yield from _told(f"access `{name}`", _of_access(before) if before else {}, _of_access(here.access[name]))
    for name, procedure in here.procedures.items():
        before_ = written.procedures.get(name)
        now = {"minutes": f"{procedure.minutes:g}", "opens": ", ".join(procedure.open)}
        yield from _told(
            f"`{name}`", {"minutes": f"{before_.minutes:g}", "opens": ", ".join(before_.open)} if before_ else {}, now
        )


def _told(what: str, before: Mapping[str, str], now: Mapping[str, str]) -> Iterator[str]:
    changed = [f"{key} {escape(text) or 'none'}" for key, text in now.items() if before.get(key) != text]
    if changed:
        yield f"{what}: {'; '.join(changed)}"


def _of_cause(cause: Cause) -> dict[str, str]:
    found = {
        f"shows at {test}": ", ".join(f"{outcome} {part:g}" for outcome, part in shown.items())
        for test, shown in cause.shows.items()
    }
    done = cause.correction
    if done:
        found["minutes"] = f"{done.minutes:g}"
        found["parts"] = ", ".join(f"{part.name} {part.price:g}" for part in done.parts)
        found["opened"] = ", ".join(done.needs.open)
    return found


def _of_test(test: Test) -> dict[str, str]:
    limits = ", ".join(f"{one.id} {f'below {one.below.text}' if one.below else 'otherwise'}" for one in test.outcomes)
    found = {"minutes": f"{test.minutes:g}", "power": test.needs.power.value, "opened": ", ".join(test.needs.open)}
    return found | {"tools": ", ".join(test.needs.tools), "outcomes": limits, "source": test.source}


def _of_access(access: Access) -> dict[str, str]:
    found = {"name": access.name, "opens in": f"{access.open:g} min", "closes in": f"{access.close:g} min"}
    return found | {"after": ", ".join(access.after), "on a live car": "never" if access.dead_only else "may be"}


def _opened(tree: Tree, here: Catalogue) -> list[str]:
    needs = [here.tests[step.test].needs for step in tree.steps.values()]
    causes = (here.causes[name] for name in tree.causes if name != SOMETHING_ELSE)
    needs += [cause.correction.needs for cause in causes if cause.correction]
    named = {name for need in needs for name in closure(need.open, here.access)}
    return [name for name in here.access if name in named]
