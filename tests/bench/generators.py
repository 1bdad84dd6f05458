"""Generated problems for tests and benchmarks, each from a seed: even, workshop, and small mixed ones."""

from __future__ import annotations

from random import Random

from diagtree.knowledge.house import House
from diagtree.knowledge.place import Place
from diagtree.knowledge.words import HAND_BACK, MAKE_SAFE, RE_ENERGISE, Access, Power
from diagtree.reason.arrangement import Layout, Need
from diagtree.reason.problem import Problem, ProblemAdvice, ProblemCorrection, ProblemTest

NOWHERE = Place("generated", 1, 1)


def access(
    name: str, opening: float, closing: float, after: tuple[str, ...] = (), *, dead: bool = False, refit: bool = False
) -> Access:
    """Return an access with these minutes."""
    return Access(name, name, opening, closing, after, dead, refit, (), NOWHERE)


def layout(
    accesses: list[Access], minutes: dict[str, float] | None = None, make_safe_opens: tuple[str, ...] = ()
) -> Layout:
    """Return the layout of these accesses; procedures that are not given take no time."""
    return Layout({one.id: one for one in accesses}, minutes or {}, make_safe_opens)


def even(causes: int, tests: int, seed: int) -> Problem:
    """Any test may point at any cause; three tests in ten are perfect, the others right in 75 to 98 per cent.

    Three access groups (each opens its own cover), corrections of 20 to 400, weights between 1 and 20.
    """
    dice = Random(f"even {causes} {tests} {seed}")
    covers = layout([access(f"cover{n}", dice.uniform(3, 20), dice.uniform(3, 15)) for n in range(3)])
    places = [Need(Power.ANY)] + [Need(Power.ANY, frozenset({f"cover{n}"})) for n in range(3)]
    made = []
    for number in range(tests):
        right = 1.0 if dice.random() < 0.3 else dice.uniform(0.75, 0.98)
        sides = _sides(dice, causes)
        row = tuple(right if side else 1 - right for side in sides)
        minutes = dice.uniform(2, 20)
        made.append(_binary(f"t{number:02d}", row, minutes, dice.choice(places)))
    corrections = tuple(
        ProblemCorrection(cause, 0.0, 0.0, dice.uniform(20, 400), dice.choice(places), 0.0, 0.0)
        for cause in range(causes)
    )
    weights = tuple(dice.uniform(1, 20) for _ in range(causes))
    return Problem(_names(causes), weights, tuple(made), corrections, (), House(rate=60.0), covers)


def workshop(causes: int, tests: int, seed: int) -> Problem:
    """Each test shows its healthy outcome for three causes in four; mistakes of 2 to 5 per cent.

    Corrections of 10 to 900 (skewed, as parts are), four accesses (two nested, one only on a dead car), make safe,
    re-energise and hand-back, proofs of 10 to 45 minutes.
    """
    dice = Random(f"workshop {causes} {tests} {seed}")
    bench = access("bench", dice.uniform(10, 25), dice.uniform(10, 25))
    cover = access("cover", dice.uniform(3, 8), dice.uniform(5, 10), ("bench",), dead=True)
    tray = access("tray", dice.uniform(8, 15), dice.uniform(8, 15))
    plug = access("plug", dice.uniform(2, 5), dice.uniform(2, 4), refit=True)
    procedures = {MAKE_SAFE: 25.0, RE_ENERGISE: 10.0, HAND_BACK: 10.0}
    car = layout([bench, cover, tray, plug], procedures, ("tray",))
    places = [
        Need(Power.ANY),
        Need(Power.ANY),
        Need(Power.LIVE),
        Need(Power.ANY, frozenset({"bench"})),
        Need(Power.DEAD, frozenset({"bench", "cover"})),
        Need(Power.DEAD, frozenset({"plug"})),
    ]
    made = []
    for number in range(tests):
        mistake = dice.uniform(0.02, 0.05)
        shown = [1.0 if dice.random() < 0.75 else dice.uniform(0.0, 0.15) for _ in range(causes)]
        row = tuple((1 - mistake) * chance + mistake / 2 for chance in shown)
        made.append(_binary(f"t{number:02d}", row, dice.uniform(2, 15), dice.choice(places)))
    corrections = []
    for cause in range(causes):
        price, minutes = 10 * 90 ** dice.random(), dice.uniform(5, 60)
        proof = dice.uniform(10, 45)
        corrections.append(
            ProblemCorrection(cause, minutes, minutes, price, dice.choice(places), proof, min(10.0, proof))
        )
    weights = tuple(20 * dice.random() ** 2 + 1 for _ in range(causes))
    return Problem(_names(causes), weights, tuple(made), tuple(corrections), (), House(rate=60.0), car)


def mixed(seed: int, causes: int = 5, tests: int = 5) -> Problem:
    """Small problems with everything in them: noise, nesting, power, refit, advice, something else, referral."""
    dice = Random(f"mixed {seed}")
    count = dice.randint(2, causes)
    car = _mixed_layout(dice)
    made = []
    for number in range(dice.randint(1, tests)):
        outcomes = dice.choice([2, 2, 2, 3])
        columns = [_column(dice, outcomes) for _ in range(count)]
        chance = tuple(tuple(column[outcome] for column in columns) for outcome in range(outcomes))
        minutes = dice.choice([1.0, 4.0, 9.0, 15.0])
        names = tuple(f"o{outcome}" for outcome in range(outcomes))
        labour = minutes if dice.random() < 0.7 else minutes / 2
        made.append(ProblemTest(f"t{number}", names, chance, minutes, labour, _need(dice, car)))
    referral = dice.choice([None, 150.0, 500.0, 1000.0])
    corrections, advices = [], []
    for cause in range(count):
        kind = dice.random()
        if kind < 0.12 and referral is not None and cause == count - 1:
            continue  # something else: neither
        if kind < 0.3 and referral is not None:
            advices.append(ProblemAdvice(cause, 10.0, 5.0))
        else:
            minutes, proof = dice.choice([5.0, 30.0, 90.0]), dice.choice([0.0, 20.0])
            price = dice.choice([0.0, 40.0, 300.0])
            corrections.append(ProblemCorrection(cause, minutes, minutes, price, _need(dice, car), proof, proof / 2))
    weights = tuple(float(dice.randint(1, 20)) for _ in range(count))
    house = House(rate=96.0, referral=referral, comeback=dice.choice([150.0, 300.0]))
    return Problem(_names(count), weights, tuple(made), tuple(corrections), tuple(advices), house, car)


def perfect(causes: int, tests: int, seed: int) -> Problem:
    """Only perfect tests and no corrections: each cause's advice costs the same, wrong advice a fortune.

    Every two causes are parted by some test. Tests cost 1 to 10; four access groups, each test in one of them or none.
    """
    dice = Random(f"perfect {causes} {tests} {seed}")
    covers = layout([access(f"cover{n}", float(dice.randint(3, 12)), 0.0) for n in range(4)])
    places = [Need(Power.ANY)] * 2 + [Need(Power.ANY, frozenset({f"cover{n}"})) for n in range(4)]
    while True:
        sides = [_sides(dice, causes) for _ in range(tests)]
        if len(set(zip(*sides, strict=True))) == causes:
            break
    made = tuple(
        _binary(f"t{n:03d}", tuple(float(side) for side in row), float(dice.randint(1, 10)), dice.choice(places))
        for n, row in enumerate(sides)
    )
    weights = tuple(float(dice.randint(1, 40)) for _ in range(causes))
    advices = tuple(ProblemAdvice(cause, 0.0, 0.0) for cause in range(causes))
    return Problem(_names(causes), weights, made, (), advices, House(60.0, None, 1e6), covers)


def _names(count: int) -> tuple[str, ...]:
    return tuple(f"c{number:02d}" for number in range(count))


def _sides(dice: Random, count: int) -> list[bool]:
    while True:
        sides = [dice.random() < 0.5 for _ in range(count)]
        if any(sides) and not all(sides):
            return sides


def _binary(name: str, row: tuple[float, ...], minutes: float, need: Need) -> ProblemTest:
    return ProblemTest(name, ("no", "yes"), (row, tuple(1 - chance for chance in row)), minutes, minutes, need)


def _column(dice: Random, outcomes: int) -> list[float]:
    if dice.random() < 0.25:
        sure = dice.randrange(outcomes)
        return [float(outcome == sure) for outcome in range(outcomes)]
    raw = [dice.choice([0.02, 0.1, 0.5, 1.0]) for _ in range(outcomes)]
    return [part / sum(raw) for part in raw]


def _mixed_layout(dice: Random) -> Layout:
    accesses: list[Access] = []
    for number in range(dice.randint(0, 4)):
        after = tuple(one.id for one in accesses if dice.random() < 0.35)
        opening, closing = dice.choice([0.0, 3.0, 20.0]), dice.choice([0.0, 5.0, 15.0])
        dead = dice.random() < 0.3
        accesses.append(access(f"a{number}", opening, closing, after, dead=dead, refit=dice.random() < 0.25))
    free = [one.id for one in accesses if not one.dead_only and not one.after]
    opens = tuple(dice.sample(free, 1)) if free and dice.random() < 0.6 else ()
    minutes = {MAKE_SAFE: dice.choice([0.0, 25.0]), RE_ENERGISE: dice.choice([0.0, 10.0]), HAND_BACK: 10.0}
    return layout(accesses, minutes, opens)


def _need(dice: Random, car: Layout) -> Need:
    if dice.random() < 0.1:
        return Need(Power.LIVE, road=True)
    wanted = car.closure(name for name in car.access if dice.random() < 0.35)
    power = dice.choice([Power.ANY, Power.ANY, Power.DEAD, Power.LIVE])
    need = Need(power, wanted)
    return Need(Power.DEAD, wanted) if car.live_conflicts(need) else need
