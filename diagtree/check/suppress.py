"""Findings that an author allows, with the reason, in a comment of the file: `# check: allow RULE because REASON`.

The comment stands at the end of the finding's line, or on lines of its own right above it. What makes the knowledge
unusable or endangers a person is not to be allowed: the errors that the reader tells, and those of the family safety.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Mapping

from diagtree.check.rule import Rule
from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.yaml_comments import comments
from diagtree.physics.nearest import did_you_mean
from diagtree.records import dataclass

MARK = "check:"
WITHOUT_REASON = "suppression-without-reason"
UNKNOWN = "suppression-of-unknown-rule"
REFUSED = "suppression-refused"
STALE = "stale-suppression"
NOT_UNDERSTOOD = "suppression-not-understood"
_FORM = re.compile(r"#+\s*check:\s*allow\b[ \t]*(?P<rule>[\w-]*)[ \t]*(?:because\b[ \t]*(?P<reason>.*))?", re.DOTALL)
_TO_CHECK = re.compile(r"#+\s*check\s*:", re.IGNORECASE)
_VERB = re.compile(r"#+\s*check\s*:\s*(?:allow|ignore|disable|skip|suppress)\b", re.IGNORECASE)
_NAME = re.compile(r"[a-z]+(?:-[a-z0-9]+)*")
_WRITE = "write `# check: allow RULE because REASON`"


@dataclass(frozen=True, slots=True)
class Suppression:
    """What one comment allows. line : the line whose findings it speaks of."""

    at: Place
    line: int
    rule: str
    reason: str


def suppressions(text: str, file: str) -> Iterator[Suppression]:
    """Yield what the comments of a file allow, whether or not they are fit to."""
    if MARK not in text:
        return
    waiting: list[tuple[Place, re.Match[str]]] = []
    above = 0
    for comment in comments(text):
        if comment.line != above + 1 or not above:
            yield from (_of(at, above + 1, said) for at, said in waiting)
            waiting = []
        said = _FORM.fullmatch(comment.text)
        at = Place(file, comment.line, comment.column)
        if not comment.alone:
            yield from (_of(one, comment.line, words) for one, words in waiting)
            waiting, above = [], 0
            if said:
                yield _of(at, comment.line, said)
            continue
        above = comment.line
        if said:
            waiting.append((at, said))
    yield from (_of(at, above + 1, said) for at, said in waiting)


def _of(at: Place, line: int, said: re.Match[str]) -> Suppression:
    return Suppression(at, line, said["rule"], (said["reason"] or "").strip())


def suppressed(
    found: Iterable[Finding], texts: Mapping[str, str], run: Collection[Rule], known: Collection[Rule]
) -> tuple[Finding, ...]:
    """Return the findings that are not allowed, and what is wrong with the comments that allow some.

    texts : file, as in the findings' places, to its text. run : the rules that looked; a comment about another one
    cannot be called stale. known : all rules there are.
    """
    allowed = [one for file, text in texts.items() for one in suppressions(text, file)]
    by_id = {rule.id: rule for rule in known}
    left = [*found, *(one for file, text in texts.items() for one in _not_understood(text, file, by_id))]
    for one in allowed:
        meant = [finding for finding in left if _means(one, finding)]
        wrong = _wrong(one, meant, by_id, {rule.id for rule in run})
        if wrong is None:
            left = [finding for finding in left if not _means(one, finding)]
        else:
            left.append(wrong)
    return tuple(left)


def _not_understood(text: str, file: str, known: Collection[str]) -> Iterator[Finding]:
    """Yield a finding for each comment to the check that has another form; other people's remarks name no rule."""
    if not _TO_CHECK.search(text):
        return
    for comment in comments(text):
        if not _TO_CHECK.match(comment.text) or _FORM.fullmatch(comment.text):
            continue
        words = (word for word in _NAME.findall(comment.text.lower()) if word in known)
        named = [word for word in words if "-" in word or _VERB.match(comment.text)]  # `loop` is also a plain word
        if named:
            more = f"; one comment for each of {', '.join(f'`{name}`' for name in named)}" if len(named) > 1 else ""
            said = f"allows nothing in this form; {_WRITE.replace('RULE', named[0])}{more}"
            yield Finding(NOT_UNDERSTOOD, Level.WARNING, Place(file, comment.line, comment.column), said)


def _means(one: Suppression, finding: Finding) -> bool:
    return (finding.place.file, finding.place.line, finding.rule) == (one.at.file, one.line, one.rule)


def _wrong(one: Suppression, meant: list[Finding], known: Mapping[str, Rule], run: Collection[str]) -> Finding | None:
    """Return what is wrong with a suppression; None where it may stand."""
    rule = known.get(one.rule)
    if rule is None:
        hint = did_you_mean(one.rule, known) or f"; {_WRITE}, `diagtree check --list` names all rules"
        said = f"allows `{one.rule}`: no such rule{hint}" if one.rule else f"allows no rule by name; {_WRITE}"
        return Finding(UNKNOWN, Level.WARNING, one.at, said)
    if not one.reason:
        message = f"allows `{one.rule}` without a reason, so nothing is allowed; {_WRITE}"
        return Finding(WITHOUT_REASON, Level.WARNING, one.at, message)
    if any(_barred(finding, rule) for finding in meant):
        why = "endangers a person" if rule.family == "safety" else "leaves the knowledge unusable"
        message = f"`{one.rule}` cannot be allowed: the mistake {why}; mend it and take this comment out"
        return Finding(REFUSED, Level.WARNING, one.at, message)
    if not meant:
        told_anyway = rule.find is None and rule.family != "walks"  # by the reader, in every check
        return _stale(one) if told_anyway or one.rule in run else None
    return None


def _barred(finding: Finding, rule: Rule) -> bool:
    return finding.level is Level.ERROR and (rule.find is None or rule.family == "safety")


def _stale(one: Suppression) -> Finding:
    message = f"allows `{one.rule}`, which line {one.line} no longer has; take this comment out"
    return Finding(STALE, Level.WARNING, one.at, message)
