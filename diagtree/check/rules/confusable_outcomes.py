"""Two outcomes that a tired person mixes up.

Fires:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [sealed, unsealed]
        healthy: sealed
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      timer-set:
        ask: Is a charging timer set?
        place: reception
        minutes: 1
        outcomes: [sealed, leaking]
        healthy: sealed
        source: estimate, common practice
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache
from itertools import combinations

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.knowledge.place import Level

_NEGATIONS = ("no-", "not-", "non-", "un", "in", "im", "dis")
_PLAIN = frozenset({"yes", "low", "high"})  # short, and known to everybody


def find(subject: Subject) -> Iterator[Found]:
    """Return each second outcome of two that are easily taken for each other."""
    for car in subject.cars:
        for test in car.catalogue.tests.values():
            for one, two in combinations(test.outcomes, 2):
                if confusable(one.id, two.id):
                    yield Found(
                        two.at,
                        f"outcomes `{one.id}` and `{two.id}` of test `{test.id}` are easily mixed up; name "
                        "them by what is seen",
                    )


@lru_cache(maxsize=4096)
def confusable(one: str, two: str) -> bool:
    """Return whether two names differ by a negation only, or by too few letters for their length.

    Words that both begin or end with are left out first: `wet-weather` and `hot-weather` differ as wet and hot do.
    """
    short, long = sorted(_parts_that_differ(one.casefold().split("-"), two.casefold().split("-")), key=len)
    if any(long == f"{negation}{short}" for negation in _NEGATIONS):
        return True
    if len(short) < 3 or short in _PLAIN:
        return False
    return _distance(short, long) <= (2 if len(short) >= 8 else 1)


def _parts_that_differ(one: list[str], two: list[str]) -> tuple[str, str]:
    while len(one) > 1 and len(two) > 1 and one[0] == two[0]:
        one, two = one[1:], two[1:]
    while len(one) > 1 and len(two) > 1 and one[-1] == two[-1]:
        one, two = one[:-1], two[:-1]
    return "-".join(one), "-".join(two)


def _distance(one: str, two: str) -> int:
    """Return the least number of letters to insert, leave out, change or swap with a neighbour (optimal alignment)."""
    before: list[int] = []
    row = list(range(len(two) + 1))
    for i, a in enumerate(one, start=1):
        above, before_above, row = row, before, [i]
        for j, b in enumerate(two, start=1):
            cost = min(above[j] + 1, row[j - 1] + 1, above[j - 1] + (a != b))
            if i > 1 and j > 1 and a == two[j - 2] and one[i - 2] == b:
                cost = min(cost, before_above[j - 2] + 1)
            row.append(cost)
        before = above
    return row[-1]


RULE = Rule(
    id="confusable-outcomes",
    family="words",
    level=Level.REMARK,
    finds="Two outcomes of one test that differ by a letter or two, or only by a `no-`, `not-` or `un-`.",
    why="A slip of the key sends the job down another branch, and nobody notices.",
    find=find,
    text=__doc__,
)
