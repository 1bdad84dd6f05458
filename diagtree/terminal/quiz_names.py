"""Names as a person types them: whole, in part, or by the number in the list that was shown last."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field

from diagtree.errors import AnswerError
from diagtree.knowledge.words import Power, Test, Where
from diagtree.physics.nearest import did_you_mean
from diagtree.quiz.choices import NAMED, SURE, Choice, Kind, read_choice
from diagtree.quiz.round import Round
from diagtree.quiz.state import State
from diagtree.quiz.way import need_of, opened_by_making_safe
from diagtree.reason.plan import Act
from diagtree.terminal.face import Block, Look

_SAME = {"isolate": "make-safe", "safe": "make-safe", "energise": "re-energise", "reenergise": "re-energise",
         "remove": "open", "refit": "close", "measure": "test", "ask": "test", "repair": "correct",
         "replace": "correct", "give-up": "stop"}  # fmt: skip
_LISTS = ("tests", "causes", "access")
ALL = "all"  # the whole catalogue


@dataclass(slots=True)
class Listed:
    """The list that was shown last: what a number means."""

    acts: list[str] = field(default_factory=list)

    def blocks(self, line: str, played: Round, state: State) -> tuple[Block, ...] | None:
        """Return a list that was asked for (`tests inlet`, `causes`, `access`), None where the line is no such wish.

        What this complaint may need comes in a few paragraphs, by name; with a part of a name, each with its words.
        Tests and accesses that serve other complaints only are listed by `tests all`, or where no other has that part.
        `list tests` means the same as `tests all`.
        """
        word, _, part = line.casefold().partition(" ")
        if word in ("list", "lists"):
            word, part = part.strip(), ALL
            if word not in _LISTS:
                raise AnswerError("what list: `list tests`, `list causes` or `list access`?")
        if word not in _LISTS or (word == "access" and part in played.walk.catalogue.access):
            return None
        part, rows = part.strip(), list(_ROWS[word](played, state))
        serves = _own(played, word)
        own = [row for row in rows if serves is None or row[0].split()[-1] in serves]
        if part in ("", ALL):
            found = rows if part else own
        else:  # this complaint's own tests first; the whole catalogue where none of them fits
            found = [row for row in own if part in _text(row)] or [row for row in rows if part in _text(row)]
        if not found:
            raise AnswerError(f"none of the {word} has `{part[:40]}` in its name or words")
        self.acts = [act for act, _ in found]
        if word in _GROUPS and part in ("", ALL):
            more = len(rows) - len(found)
            others = f" `{word} {ALL}`: {more} more, of other complaints." if more else ""
            return _grouped(found, _GROUPS[word](played, state), word, others)
        return tuple(Block(Look.SAID, text, f"  {number:2}  ") for number, (_, text) in enumerate(found, 1))


def _tests(played: Round, state: State) -> Iterable[tuple[str, str]]:
    tests = played.walk.catalogue.tests
    for one in sorted(tests, key=lambda one: (_group(tests[one])[0], tests[one].minutes, one)):
        test = tests[one]
        known = f" ({state.outcomes[one]})" if one in state.outcomes else ""
        yield f"test {one}", f"{one}, {_group(test)[1]}, {test.minutes:g} min{known}: {test.ask}"


def _own(played: Round, word: str) -> Collection[str] | None:
    """Return the tests or accesses that serve this complaint; None for all."""
    if word == "access":
        problem = played.problem
        named = [need_of(played, Act("test", test.id)) for test in problem.tests]
        named += [need_of(played, Act("correct", problem.causes[work.cause])) for work in problem.corrections]
        needed = problem.layout.closure(one for need in named if need for one in need.open)
        return needed | opened_by_making_safe(played)
    return played.test_numbers if word == "tests" else None


def _group(test: Test) -> tuple[int, str]:
    """Return where a test stands in the list, and what that means."""
    if test.place is Where.ROAD:
        return 4, "on the road"
    if test.place is Where.RECEPTION:
        return 0, "at the desk"
    power = {Power.ANY: (1, "in the bay"), Power.LIVE: (2, "in the bay, car live"), Power.DEAD: (3, "on a dead car")}
    return power[test.needs.power]


def _text(row: tuple[str, str]) -> str:
    return f"{row[0]} {row[1]}".casefold()


def _grouped(
    rows: Sequence[tuple[str, str]], named: Mapping[str, tuple[str, str]], word: str, others: str
) -> tuple[Block, ...]:
    """Return rows in a few paragraphs, numbered. named : act to the group it stands in, and its name there."""
    groups: dict[str, list[str]] = {}
    for number, (act, _) in enumerate(rows, 1):
        group, name = named[act]
        groups.setdefault(group, []).append(f"{number} {name}")
    listed = [f"{group}: {'; '.join(found)}" for group, found in groups.items()]
    told = f"In full: `{word}` with a part of its name.{others}"
    return tuple(Block(Look.SAID, one, "  ") for one in (*listed, told))


def _tests_named(played: Round, state: State) -> Mapping[str, tuple[str, str]]:
    tests = played.walk.catalogue.tests
    answers = {one: f", {outcome}" for one, outcome in state.outcomes.items()}
    return {
        f"test {one}": (f"{_group(test)[1].capitalize()} (minutes)", f"{one} ({test.minutes:g}{answers.get(one, '')})")
        for one, test in tests.items()
    }


def _causes_named(played: Round, state: State) -> Mapping[str, tuple[str, str]]:
    said = {"correct": "Put right here (correct)", "advise": "Advice to the owner (advise)"}
    acts = [act for act, _ in _causes(played, state)]
    split = {act: act.split() for act in acts}
    return {
        act: (said[verb], f"{one}{' (in vain)' if one in state.struck else ''}") for act, (verb, one) in split.items()
    }


def _causes(played: Round, state: State) -> Iterable[tuple[str, str]]:
    causes = played.walk.catalogue.causes
    for one in sorted(played.problem.causes, key=lambda one: one in causes and causes[one].advise is not None):
        cause = causes.get(one)
        if cause is not None:
            kind = "advise" if cause.advise is not None else "correct"
            done = " (in vain)" if one in state.struck else ""
            yield f"{kind} {one}", f"{kind} {one}{done}: {cause.name}"


def _access_named(played: Round, state: State) -> Mapping[str, tuple[str, str]]:
    found = {}
    for one, access in played.walk.catalogue.access.items():
        is_open = one in state.arrangement.open
        after = f", after {', '.join(access.after)}" if access.after and not is_open else ""
        minutes = access.close if is_open else access.open
        group = "Open now: a number closes it" if is_open else (
            "To be opened on a dead car only" if access.dead_only else "To be opened"
        )
        found[f"{'close' if is_open else 'open'} {one}"] = f"{group} (minutes)", f"{one} ({minutes:g}{after})"
    return found


def _access(played: Round, state: State) -> Iterable[tuple[str, str]]:
    every, opened = played.walk.catalogue.access, state.arrangement.open
    for one in sorted(every, key=lambda one: (one not in opened, one not in opened and every[one].dead_only)):
        access, is_open = every[one], one in opened
        act = "close" if is_open else "open"
        dead = ", dead only" if access.dead_only else ""
        after = f", after {', '.join(access.after)}" if access.after else ""
        minutes = access.close if is_open else access.open
        yield f"{act} {one}", f"{one} ({'open' if is_open else 'closed'}, {act} {minutes:g} min{dead}{after})"


_GROUPS = {"tests": _tests_named, "causes": _causes_named, "access": _access_named}
_ROWS = {"tests": _tests, "causes": _causes, "access": _access}


def several(line: str) -> list[str]:
    """Return the acts of a line: `open A, B` is opening A and then B; any other line is one act."""
    verb, _, rest = line.partition(" ")
    if _SAME.get(verb.casefold(), verb.casefold()) not in ("open", "close") or "," not in rest:
        return [line]
    return [f"{verb} {name}" for part in rest.split(",") if (name := part.strip())] or [line]


def act_typed(line: str, played: Round, listed: Listed) -> Choice:
    """Return the act that was typed. Raises AnswerError, saying what may be typed, where it is none."""
    words = line.replace("make safe", "make-safe").replace("re energise", "re-energise").split()
    if is_number(words[0]):
        words = [*_numbered(words[0], listed).split(), *words[1:]]
    verb = _SAME.get(words[0].casefold(), words[0].casefold())
    if verb not in set(Kind):
        return _bare(words, played)
    kind = Kind(verb)
    if kind not in NAMED or len(words) < 2:
        return read_choice(" ".join([verb, *words[1:]]))
    if is_number(words[1]) and not (len(words) == 2 and kind in SURE and words[1] in _known(kind, played)):
        return read_choice(" ".join([verb, _numbered(words[1], listed).split()[-1], *words[2:]]))
    return read_choice(" ".join([verb, whole(words[1], _known(kind, played), _served(kind, played)), *words[2:]]))


def is_number(word: str) -> bool:
    """Tell whether a word is a number of a list, as `7` or `7.`; not `²`, and nothing that is too long to be one."""
    tidy = word.rstrip(".)")
    return tidy.isdecimal() and len(tidy) < 5


def _numbered(word: str, listed: Listed) -> str:
    number = int(word.rstrip(".)"))
    if not 1 <= number <= len(listed.acts):
        shown = f"1 to {len(listed.acts)}" if listed.acts else "none yet: type `tests`, `causes` or `access` first"
        raise AnswerError(f"`{word}` is no number of the list that was shown last ({shown})")
    return listed.acts[number - 1]


def _bare(words: Sequence[str], played: Round) -> Choice:
    """Return what a name alone means: a test is done; an access or a cause needs its verb."""
    tests = played.walk.catalogue.tests
    fit = [sum(words[0] in one for one in some) for some in (played.test_numbers, tests)]
    if len(words) == 1 and (words[0] in tests or (fit[0] or fit[1]) == 1):
        return Choice(Kind.TEST, whole(words[0], tests, played.test_numbers))
    for kind in (Kind.OPEN, Kind.CORRECT):
        if words[0] in _known(kind, played):
            verbs = "open or close" if kind is Kind.OPEN else "correct or advise"
            raise AnswerError(f"what about `{words[0]}`: {verbs}?")
    known = [*Kind, *_LISTS, "look", "help", "leave"]
    raise AnswerError(
        f"`{words[0][:40]}` is no act{did_you_mean(words[0], known)}; `help` says what may be typed, `tests` lists them"
    )


def _known(kind: Kind, played: Round) -> Mapping[str, object]:
    catalogue = played.walk.catalogue
    if kind is Kind.TEST:
        return catalogue.tests
    return catalogue.access if kind in (Kind.OPEN, Kind.CLOSE) else catalogue.causes


def _served(kind: Kind, played: Round) -> Collection[str]:
    """Return the names that this complaint knows: a part of a name means one of these, if it can."""
    if kind is Kind.TEST:
        return played.test_numbers
    return played.cause_numbers if kind in SURE else ()


def whole(name: str, known: Iterable[str], first: Collection[str] = ()) -> str:
    """Return the one name that `name` is a part of, else `name` itself. Raises AnswerError where several fit.

    first : names among which is looked before all the others.
    """
    every = list(known)
    if name in every:
        return name
    found = [one for one in every if name.casefold() in one]
    found = [one for one in found if one in first] or found
    if len(found) > 1:
        raise AnswerError(
            f"`{name}` may be {', '.join(found[:6])}{' or others' if len(found) > 6 else ''}: type more of it"
        )
    return found[0] if found else name
