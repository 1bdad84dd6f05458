"""What is open, what is live, and what it takes to change that: the one place that knows.

Walk, price, plan, check and quiz all ask here (docs/meaning.md, "Arrangement"). Bringing the car to what a job
needs is forced and lazy: only what the job needs is changed, nothing is opened or closed beside it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum

from diagtree.knowledge.access_order import closure
from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE, Access, Catalogue, Needs, Power, Test, Where
from diagtree.records import dataclass


@dataclass(frozen=True, slots=True)
class Arrangement:
    """The car's power state plus the set of accesses that are open. `dead` means made safe and proven."""

    dead: bool = False
    open: frozenset[str] = frozenset()


START = Arrangement()


class Move(StrEnum):
    """The four ways to change an arrangement."""

    OPEN = "open"
    CLOSE = "close"
    MAKE_SAFE = "make-safe"
    RE_ENERGISE = "re-energise"


@dataclass(frozen=True, slots=True)
class Moved:
    """One change, with the access it concerns (None for the two procedures) and its minutes. [min]"""

    move: Move
    access: str | None
    minutes: float


@dataclass(frozen=True, slots=True)
class Need:
    """What a job asks of the arrangement. `open` is closed under `after`; `road` means live and nothing open."""

    power: Power
    open: frozenset[str] = frozenset()
    road: bool = False
    hands_on: bool = True  # False at reception: words only, nobody reaches into the car


LIVE = Need(Power.LIVE)
ROAD = Need(Power.LIVE, road=True)


class Layout:
    """The accesses and procedures of a catalogue, compiled for the questions asked of them."""

    def __init__(
        self, access: Mapping[str, Access], minutes: Mapping[str, float], make_safe_opens: Iterable[str]
    ) -> None:
        """`minutes` holds the minutes of the procedures by id; one that is missing takes none. [min]"""
        self.access = access
        self._minutes = minutes
        self._order = {access_id: rank for rank, access_id in enumerate(_topological(access))}
        self._closure = {access_id: closure((access_id,), access) for access_id in access}
        self._under: dict[str, frozenset[str]] = {
            access_id: frozenset(other for other, below in self._closure.items() if access_id in below)
            for access_id in access
        }
        self._make_safe_opens = self.closure(make_safe_opens)

    @classmethod
    def of(cls, catalogue: Catalogue) -> Layout:
        """Return the layout of `catalogue`."""
        make_safe = catalogue.procedures.get(MAKE_SAFE)
        return cls(
            catalogue.access,
            {name: procedure.minutes for name, procedure in catalogue.procedures.items()},
            make_safe.open if make_safe else (),
        )

    def closure(self, wanted: Iterable[str]) -> frozenset[str]:
        """Return `wanted` and all they are `after`, transitively."""
        return frozenset[str]().union(*(self._closure[access_id] for access_id in wanted))

    def need(self, needs: Needs, place: Where = Where.BAY) -> Need:
        """Return what a test or a correction asks of the arrangement."""
        if place is Where.ROAD:
            return ROAD
        wanted = self.closure(needs.open)
        return Need(needs.power, wanted, hands_on=place is Where.BAY or bool(wanted))

    def need_of(self, test: Test) -> Need:
        """Return what `test` asks of the arrangement."""
        return self.need(test.needs, test.place)

    def live_conflicts(self, need: Need) -> frozenset[str]:
        """Return the accesses which a job that needs `live` wants open although they may not be open live."""
        if need.power is not Power.LIVE:
            return frozenset()
        return frozenset(access_id for access_id in need.open if self._must_close_for_live(access_id))

    def moves(self, now: Arrangement, need: Need) -> tuple[Moved, ...]:
        """Return what must be done, in order, before a job with this `need` may begin; () where it may begin now."""
        if need.road:
            return self._to_road(now)
        if need.power is Power.LIVE:
            return self._to_live(now, need.open)
        missing = need.open - now.open
        blocked = need.power is Power.DEAD or any(self.access[access_id].dead_only for access_id in missing)
        exposed = need.hands_on and any(self.access[access_id].dead_only for access_id in now.open)
        # `exposed` cannot come about by these moves; somebody powered the car behind the tool. Hands off until dead.
        done = self._make_safe(now) if not now.dead and (blocked or exposed) else ()
        opened = frozenset(moved.access for moved in done if moved.access)
        return done + self._opening(missing - opened)

    def end(self, now: Arrangement) -> tuple[Moved, ...]:
        """Return the moves that put everything back and the car to live, `hand-back` not among them."""
        return self._to_road(now)

    @property
    def hand_back_minutes(self) -> float:
        """Minutes of the last look before the key goes back; 0 where the catalogue has none. [min]"""
        return self._minutes.get(HAND_BACK, 0.0)

    def after(self, now: Arrangement, moves: Iterable[Moved]) -> Arrangement:
        """Return the arrangement that `moves` lead to."""
        dead, opened = now.dead, set(now.open)
        for moved in moves:
            if moved.move is Move.MAKE_SAFE:
                dead = True
            elif moved.move is Move.RE_ENERGISE:
                dead = False
            elif moved.access is not None and moved.move is Move.OPEN:
                opened.add(moved.access)
            elif moved.access is not None:
                opened.discard(moved.access)
        return Arrangement(dead, frozenset(opened))

    def put_back(self, opened: Iterable[str]) -> tuple[str, ...]:
        """Return `opened` in the order in which it must be closed: the reverse of the order of `after`."""
        return tuple(sorted(opened, key=lambda access_id: self._order[access_id], reverse=True))

    def _must_close_for_live(self, access_id: str) -> bool:
        access = self.access[access_id]
        return access.dead_only or access.refit_before_live

    def _opening(self, missing: Iterable[str]) -> tuple[Moved, ...]:
        in_order = sorted(missing, key=lambda access_id: self._order[access_id])
        return tuple(Moved(Move.OPEN, access_id, self.access[access_id].open) for access_id in in_order)

    def _closing(self, now: Arrangement, closing: Iterable[str]) -> tuple[Moved, ...]:
        closed = tuple(
            Moved(Move.CLOSE, access_id, self.access[access_id].close) for access_id in self.put_back(closing)
        )
        if not now.dead and any(self.access[moved.access].dead_only for moved in closed if moved.access):
            return self._make_safe(now) + closed  # a dead-only cover stands open on a live car: not to be touched
        return closed

    def _make_safe(self, now: Arrangement) -> tuple[Moved, ...]:
        opened = self._opening(self._make_safe_opens - now.open)
        return (*opened, Moved(Move.MAKE_SAFE, None, self._minutes.get(MAKE_SAFE, 0.0)))

    def _energise(self, now: Arrangement, moves: tuple[Moved, ...]) -> tuple[Moved, ...]:
        if not self.after(now, moves).dead:
            return moves
        return (*moves, Moved(Move.RE_ENERGISE, None, self._minutes.get(RE_ENERGISE, 0.0)))

    def _to_live(self, now: Arrangement, wanted: frozenset[str]) -> tuple[Moved, ...]:
        moves = self._closing(now, self._closing_for_live(now.open))
        made_safe_open = self._closing_for_live(self.after(now, moves).open)  # as in `_to_road`
        moves = self._energise(now, moves + self._closing(Arrangement(dead=True), made_safe_open))
        return moves + self._opening(wanted - self.after(now, moves).open)

    def _closing_for_live(self, opened: frozenset[str]) -> frozenset[str]:
        must = [access_id for access_id in opened if self._must_close_for_live(access_id)]
        return frozenset[str]().union(*(self._under[access_id] & opened for access_id in must))

    def _to_road(self, now: Arrangement) -> tuple[Moved, ...]:
        moves = self._closing(now, now.open)
        made_safe_open = self.after(now, moves).open  # only where making safe had to open something first
        return self._energise(now, moves + self._closing(Arrangement(dead=True), made_safe_open))


def minutes_of(moves: Iterable[Moved]) -> float:
    """Return the minutes that `moves` take together. [min]"""
    return sum(moved.minutes for moved in moves)


def may_be_shown(layout: Layout, now: Arrangement, need: Need, *, absence_proven: bool) -> bool:
    """Return whether a job with this `need` may be shown in the car's present state: the one safety predicate.

    absence_proven : a proof of the absence of voltage stands that is still good (not since undone, resumed,
                     changed or run out). A car whose proof is not good counts as live for work on it.
    """
    # What needs a dead car may never lean on bookkeeping alone: the arrangement says dead *and* the proof stands.
    if relies_on_dead(layout, now, need) and not (now.dead and absence_proven):
        return False
    return not layout.moves(now, need)


def relies_on_dead(layout: Layout, now: Arrangement, need: Need) -> bool:
    """Return whether a job is safe only on a dead car: by its own need, by what it opens, or by what stands open.

    Where it does, and the moves it needs are done, a proof of the absence of voltage that is no longer good must be
    given anew before `may_be_shown` lets the job through.
    """
    bared = need.open | now.open if need.hands_on else need.open
    return need.power is Power.DEAD or any(layout.access[access_id].dead_only for access_id in bared)


def _topological(access: Mapping[str, Access]) -> list[str]:
    """Return the ids so that each stands behind all it is `after`; a ring is broken where it was entered."""
    done: dict[str, None] = {}
    busy: set[str] = set()

    def visit(access_id: str) -> None:
        if access_id in done or access_id in busy:
            return
        busy.add(access_id)
        for below in access[access_id].after:
            visit(below)
        done[access_id] = None

    for access_id in access:
        visit(access_id)
    return list(done)
