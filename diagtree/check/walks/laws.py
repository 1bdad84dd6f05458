"""What no walk may ever do, whatever the tree, the car and the person: asked at every prompt.

The first laws are about hands and high voltage. Each is held against the bystander's car, not the session's own state.
"""

from __future__ import annotations

from collections.abc import Iterable

from diagtree.check.walks.bystander import Bystander
from diagtree.knowledge.words import Catalogue, Needs, Power, Where
from diagtree.walk.cautions import AFTER_DANGER
from diagtree.walk.context import Walk
from diagtree.walk.prompts import Kind, Prompt
from diagtree.walk.state import State

_AFTER_DANGER = (Kind.REFER, Kind.HAND_OVER, Kind.DANGER, Kind.VOLTAGE_FOUND)
_BACK_IN_ORDER = ("fixed", "advised", "referred")


class BrokenLaw(Exception):
    """A walk did what none may do. The message says what, with the prompt's kind and key."""


def hold(walk: Walk, car: Bystander, prompt: Prompt | None, state: State) -> None:
    """Raise BrokenLaw where the prompt that is due, or the case's books, are wrong for the car as it is."""
    _books(car, state)
    if prompt is None:
        return
    catalogue = walk.catalogue
    match prompt.kind:
        case Kind.OUTCOME | Kind.READING:
            test = walk.test(prompt.key)
            _job(prompt, car, catalogue, test.needs, test.place)
        case Kind.CORRECTION:
            correction = catalogue.causes[prompt.key].correction
            if correction is None:
                raise BrokenLaw(f"a correction of `{prompt.key}` is shown, which has none")
            _job(prompt, car, catalogue, correction.needs, Where.BAY)
        case Kind.PROOF:
            _claim(car.live, prompt, "a proof charge is asked for on a dead car")
            _nothing_bare(prompt, car, catalogue)
        case Kind.OPEN | Kind.CLOSE:
            _claim(not catalogue.access[prompt.key].dead_only or car.dead, prompt, "the car is not proven dead")
        case Kind.PROCEDURE if prompt.key.startswith("re-energise"):
            shut = {item.id for item in catalogue.access.values() if item.dead_only or item.refit_before_live}
            _claim(not car.open & shut, prompt, f"power is put back with {_names(car.open & shut)} open")
        case _:
            pass
    if car.stopped:
        making_safe = prompt.kind in (Kind.PROCEDURE, Kind.ABSENCE) and prompt.key.startswith("make-safe")
        _claim(making_safe or prompt.kind is Kind.VOLTAGE_FOUND, prompt, "the walk goes past voltage that was found")
    if car.handed_over and prompt.kind in (Kind.OUTCOME, Kind.READING):
        _claim(AFTER_DANGER in prompt.cautions, prompt, "a danger was found, and this test does not say so")
    if car.danger:
        _claim(prompt.kind in _AFTER_DANGER, prompt, "the walk goes past a danger that was found")


def _books(car: Bystander, state: State) -> None:
    if set(state.opened) != car.open or len(state.opened) != len(car.open):
        raise BrokenLaw(f"the put-back list says {_names(state.opened)}; open on the car: {_names(car.open)}")
    if state.closed in _BACK_IN_ORDER and (car.open or not car.live):
        raise BrokenLaw(f"the case is closed ({state.closed}) with {_names(car.open)} open, live: {car.live}")


def _job(prompt: Prompt, car: Bystander, catalogue: Catalogue, needs: Needs, place: Where) -> None:
    wanted = reached(needs.open, catalogue)
    bared = {name for name in wanted if catalogue.access[name].dead_only}
    if needs.power is Power.DEAD or bared:
        _claim(car.dead, prompt, "it needs a dead car, and this one is not proven dead")
    _claim(needs.power is not Power.LIVE or car.live, prompt, "it needs a live car, and this one is dead")
    if place is Where.ROAD:
        _claim(not car.open, prompt, f"it is done on the road with {_names(car.open)} open")
    elif place is Where.BAY:
        _claim(wanted <= car.open, prompt, f"{_names(wanted - car.open)} must be open for it")
        _nothing_bare(prompt, car, catalogue)


def _nothing_bare(prompt: Prompt, car: Bystander, catalogue: Catalogue) -> None:
    bare = {name for name in car.open if catalogue.access[name].dead_only}
    _claim(not (car.live and bare), prompt, f"{_names(bare)} stands open on a live car")


def reached(names: Iterable[str], catalogue: Catalogue) -> set[str]:
    """Return `names` and all accesses they are `after`."""
    found, waiting = set[str](), list(names)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            waiting.extend(catalogue.access[name].after)
    return found


def _claim(holds: bool, prompt: Prompt, message: str) -> None:
    if not holds:
        raise BrokenLaw(f"{prompt.kind.value} `{prompt.key}`: {message}")


def _names(names: Iterable[str]) -> str:
    return ", ".join(f"`{name}`" for name in sorted(names)) or "nothing"
