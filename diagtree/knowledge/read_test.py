"""Read a test of the catalogue."""

from __future__ import annotations

from diagtree.errors import WrongUse
from diagtree.knowledge.fields import Fields, Findings, expression_in, is_id, odd_letters
from diagtree.knowledge.limits import Expression
from diagtree.knowledge.place import Place
from diagtree.knowledge.read_units import BELOW, Sums, in_one_unit
from diagtree.knowledge.words import NOT_DONE, Needs, Outcome, Power, Qualification, Read, Test, Where
from diagtree.knowledge.yaml_text import Entry, Mapping, Node, Scalar, Sequence
from diagtree.physics.units import unit

OTHERWISE = "otherwise"


def read_test(test_id: str, entry: Entry, findings: Findings) -> Test:
    """Return the test under `entry`; mistakes go into `findings`."""
    fields = Fields(entry.value, f"test `{test_id}`", findings, entry.at)
    place = fields.word("place", Where, Where.BAY, required=True)
    reads = _reads(fields, findings)
    outcomes = _outcomes(fields, findings, numeric=bool(reads))
    expected = fields.expression("expected")
    judge = fields.expression("judge")
    if judge is None and "judge" not in fields.written() and reads:
        judge = _only_reading(reads, fields, findings)
    if not reads and {"judge", "expected", "safety"} & set(fields.written()):
        findings.error("judge-without-reads", entry.at, f"test `{test_id}` judges a number but has no `reads:`")
    written = {key: fields.node(key) for key in ("expected", "judge", "outcomes")}
    sums = in_one_unit(Sums(expected, judge, outcomes), reads, f"test `{test_id}`", written, entry.at, findings)
    test = Test(
        id=test_id,
        ask=fields.text("ask", required=True),
        how=fields.texts("how"),
        place=place,
        minutes=fields.number("minutes", required=True, unit="minutes"),
        attended=fields.number_or_none("attended", unit="minutes"),
        needs=read_needs(fields, findings, place, entry.at),
        qualification=fields.word("qualification", Qualification, Qualification.NONE),
        mind=fields.texts("mind"),
        reads=reads,
        expected=sums.expected,
        judge=sums.judge,
        outcomes=sums.outcomes,
        healthy=_outcome_name(fields, "healthy", outcomes, findings),
        stop=_stop(fields, outcomes, findings),
        mistake=fields.number("mistake", high=100, unit="per cent"),
        source=fields.text("source", required=True),
        at=entry.at,
        places=fields.places("expected", "judge") | _observed_places(fields),
        safety=fields.flag("safety"),
    )
    fields.done()
    return test


def read_needs(fields: Fields, findings: Findings, place: Where, at: Place) -> Needs:
    """Return what a test or a correction needs. In the bay `power` must be written."""
    entry = fields.entry("needs")
    # What is missing is told at the word `needs`, also where its block begins on the next line.
    inner = Fields(entry.value if entry else None, f"`needs` of {fields.what}", findings, entry.at if entry else at)
    power = Power.LIVE if place is Where.ROAD else Power.ANY
    if "power" in inner.written():
        power = inner.word("power", Power, power)
    else:
        inner.entry("power")
        if place is Where.BAY:
            findings.error(
                "power-not-written",
                inner.at,
                f"{fields.what} is work on the car: write `needs: {{power: live}}`, `dead` or `any`",
            )
    if place is Where.ROAD and power is Power.DEAD:
        findings.error("dead-on-the-road", inner.at, f"{fields.what} is done on the road: the car is live there")
    needs = Needs(power, inner.names("open"), inner.texts("tools"), inner.texts("state"), inner.places("open"))
    inner.done()
    return needs


def _reads(fields: Fields, findings: Findings) -> tuple[Read, ...]:
    found = []
    for name, entry in fields.children("reads"):
        of = None
        if isinstance(entry.value, Mapping):
            inner = Fields(entry.value, f"reading `{name}` of {fields.what}", findings, entry.at)
            written = inner.text("unit", required=True)
            of = inner.text("of") or None
            inner.done()
        elif isinstance(entry.value, Scalar):
            written = entry.value.text
        else:
            findings.wrong(entry.value, f"a unit, or {{unit: ..., of: ...}} for reading `{name}`")
            continue
        if not name.isidentifier():
            findings.error(
                "bad-id", entry.at, f"reading `{name}`: use letters, digits and `_`, to be used in arithmetic"
            )
        if not written.strip():
            message = f"reading `{name}` has no unit; write one, such as `ohm`, or `1` for a plain number"
            findings.error("bad-unit", entry.value.at, message)
        try:
            unit(written)
        except WrongUse as error:
            findings.error("bad-unit", entry.value.at, f"reading `{name}`: {error}")
        found.append(Read(name, written, of, entry.at))
    return tuple(found)


def _observed_places(fields: Fields) -> dict[str, Place]:
    """Return where each reading names what physics can simulate, as `reads.NAME.of`."""
    reads = fields.node("reads")
    entries = reads.entries if isinstance(reads, Mapping) else {}
    return {
        f"reads.{name}.of": entry.value.entries["of"].value.at
        for name, entry in entries.items() if isinstance(entry.value, Mapping) and "of" in entry.value.entries
    }


def _only_reading(reads: tuple[Read, ...], fields: Fields, findings: Findings) -> Expression | None:
    if len(reads) > 1:
        findings.error(
            "judge-missing",
            fields.at,
            f"{fields.what} has {len(reads)} readings: say with `judge:` which number is judged",
        )
        return None
    return expression_in(reads[0].name, reads[0].at, 0, "`reads`", findings)


def _outcomes(fields: Fields, findings: Findings, *, numeric: bool) -> tuple[Outcome, ...]:
    node = fields.node("outcomes", required=True)
    if node is None:
        return ()
    if isinstance(node, Mapping):
        if not numeric:
            findings.error("limits-without-reads", node.at, f"{fields.what} has limits but no `reads:`")
        outcomes = _limits(node, fields, findings)
    elif isinstance(node, Sequence):
        if numeric:
            findings.error(
                "reads-without-limits",
                node.at,
                f"{fields.what} reads a number: give each outcome its limit (`low: below 0.9`, `high: otherwise`)",
            )
        outcomes = _named(node, findings)
    else:
        findings.wrong(node, "a list of outcomes, or a mapping of outcomes to limits")
        return ()
    if len(outcomes) < 2:
        findings.error("too-few-outcomes", node.at, f"{fields.what} needs at least two outcomes")
    return outcomes


def _named(node: Sequence, findings: Findings) -> tuple[Outcome, ...]:
    found: dict[str, Outcome] = {}
    for item in node.items:
        if not isinstance(item, Scalar):
            findings.wrong(item, "the name of an outcome")
        elif _good_name(item.text, item.at, findings):
            if item.text in found:
                findings.error("duplicate-outcome", item.at, f"the outcome `{item.text}` is listed twice")
            found[item.text] = Outcome(item.text, None, item.at)
    return tuple(found.values())


def _limits(node: Mapping, fields: Fields, findings: Findings) -> tuple[Outcome, ...]:
    found = []
    last = len(node.entries) - 1
    for index, (name, entry) in enumerate(node.entries.items()):
        if _good_name(name, entry.at, findings):
            limit = _limit(name, entry.value, index == last, fields, findings)
            found.append(Outcome(name, limit, entry.at))
    return tuple(found)


def _limit(name: str, node: Node, is_last: bool, fields: Fields, findings: Findings) -> Expression | None:
    text = node.text.strip() if isinstance(node, Scalar) else ""
    if is_last:
        if text != OTHERWISE:
            findings.error("last-outcome-not-open", node.at, f"the last outcome must be open: `{name}: otherwise`")
        return None
    if not isinstance(node, Scalar) or not text.startswith(BELOW):
        findings.error(
            "bad-limit",
            node.at,
            f"outcome `{name}` of {fields.what}: write `below LIMIT`"
            + (" (only the last one is `otherwise`)" if text == OTHERWISE else ""),
        )
        return None
    shift = (0 if node.plain else 1) + len(BELOW)
    return expression_in(text[len(BELOW) :], node.at, shift, f"limit of `{name}`", findings)


def _good_name(name: str, at: Place, findings: Findings) -> bool:
    if name == NOT_DONE:
        findings.error(
            "reserved-word", at, f"`{NOT_DONE}` is an outcome of every test without being listed; leave it out"
        )
        return False
    if not is_id(name):
        said = f"`{name}` cannot name an outcome; use letters, digits, `-` and no blanks{odd_letters(name)}"
        findings.error("bad-id", at, said)
        return False
    return True


def _outcome_name(fields: Fields, key: str, outcomes: tuple[Outcome, ...], findings: Findings) -> str:
    name = fields.text(key, required=True)
    node = fields.node(key)
    known = [outcome.id for outcome in outcomes]
    if node is not None and name not in known:
        said = f"`{key}: {name}` of {fields.what} is none of its outcomes ({', '.join(known)}){odd_letters(name)}"
        findings.error("unknown-outcome", node.at, said)
    return name


def _stop(fields: Fields, outcomes: tuple[Outcome, ...], findings: Findings) -> frozenset[str]:
    names = fields.texts("stop")
    places = fields.places("stop")
    known = {outcome.id for outcome in outcomes}
    for name in names:
        if name not in known:
            at = places.get(f"stop.{name}", places["stop"])
            findings.error("unknown-outcome", at, f"`stop: {name}` of {fields.what} is none of its outcomes")
    return frozenset(names) & known
