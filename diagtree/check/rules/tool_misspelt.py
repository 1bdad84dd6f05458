"""A tool whose name is one letter from that of another: most likely the same tool, misspelt.

Fires:

    --- catalogue/more.yaml
    tests:
      lead-resistance:
        ask: Resistance of the inlet's lead
        how: [Unplug both ends., Measure from end to end.]
        place: bay
        minutes: 6
        needs: {power: dead, open: [inlet-connector], tools: [multimetr]}
        qualification: high-voltage
        reads: {resistance: ohm}
        outcomes: {normal: below 1, open: otherwise}
        healthy: normal
        source: estimate, common practice

Silent:

    --- catalogue/more.yaml
    tests:
      lead-resistance:
        ask: Resistance of the inlet's lead
        how: [Unplug both ends., Measure from end to end.]
        place: bay
        minutes: 6
        needs: {power: dead, open: [inlet-connector], tools: [multimeter]}
        qualification: high-voltage
        reads: {resistance: ohm}
        outcomes: {normal: below 1, open: otherwise}
        healthy: normal
        source: estimate, common practice
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from diagtree.check.rule import Found, Rule
from diagtree.check.subject import Subject
from diagtree.check.use import jobs
from diagtree.knowledge.place import Level

_SHORTEST = 5  # letters; of shorter names many are one letter apart
_METER = 1000  # uses that count for a meter of the house: its name is right


def find(subject: Subject) -> Iterator[Found]:
    """Return each place where a job asks for the rarer of two tools with nearly the same name."""
    workshop = subject.library.workshop
    meters = workshop.meters if workshop is not None else {}
    for car in subject.cars:
        asked = [(job, number, tool) for job in jobs(car.catalogue) for number, tool in enumerate(job.needs.tools)]
        uses = Counter(dict.fromkeys(meters, _METER)) + Counter(tool for _, _, tool in asked)
        meant = {tool: other for tool in uses if (other := _meant(tool, uses)) is not None}
        for job, number, tool in asked:
            if tool in meant:
                yield Found(
                    job.place(subject, car, "needs", "tools", number),
                    f"{job.name} asks for tool `{tool}`; did you mean `{meant[tool]}`, as elsewhere?",
                )


def _meant(tool: str, uses: Counter[str]) -> str | None:
    """Return the tool with nearly the same name that is used more often (as often: the first by name)."""
    near = (other for other in uses if (uses[other], tool) > (uses[tool], other) and _one_letter_apart(tool, other))
    return max(near, key=lambda other: uses[other], default=None)


def _one_letter_apart(one: str, other: str) -> bool:
    """Return whether one letter more, less, changed, or swapped with its neighbour makes one name of the other."""
    if one == other or min(len(one), len(other)) < _SHORTEST or abs(len(one) - len(other)) > 1:
        return False
    while one and other and one[0] == other[0]:
        one, other = one[1:], other[1:]
    while one and other and one[-1] == other[-1]:
        one, other = one[:-1], other[:-1]
    if (one + other).isdigit():  # `meter-1` and `meter-2` are two
        return False
    return max(len(one), len(other)) <= 1 or (len(one) == len(other) == 2 and one == other[::-1])


RULE = Rule(
    id="tool-misspelt",
    family="links",
    level=Level.WARNING,
    finds="A tool in `needs` one letter from a tool that is asked for more often, or from a meter of the house.",
    why="Nobody has such a tool; and where it is a meter, its accuracy is not found and its readings count as exact.",
    find=find,
    text=__doc__,
)
