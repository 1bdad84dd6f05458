"""Names in an answers file against the catalogue of the car: what does not exist is told before the walk begins."""

from __future__ import annotations

from diagtree.knowledge.place import Finding, Level, Place
from diagtree.knowledge.words import NOT_DONE, Catalogue
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal.answers_text import AnswersFile


def expected(test_id: str, catalogue: Catalogue) -> str:
    """Return what a file may answer to a test, for messages."""
    test = catalogue.tests[test_id]
    if test.reads:
        readings = ", ".join(f"{read.name}: {read.unit or 'number'}" for read in test.reads)
        return f"{{{readings}}}" + ("" if test.stop else f" or {NOT_DONE}")
    return ", ".join(test.outcome_ids()) + ("" if test.stop else f" or {NOT_DONE}")


def wrong_names(file: AnswersFile, catalogue: Catalogue) -> tuple[Finding, ...]:
    """Return every name in the file that the catalogue does not know, each with what was expected."""
    found: list[Finding] = []

    def wrong(rule: str, at: Place, message: str) -> None:
        found.append(Finding(rule, Level.ERROR, at, message))

    for test_id, given in file.answers.items():
        test = catalogue.tests.get(test_id)
        if test is None:
            wrong("unknown-test", given.at, f"there is no test `{test_id}`{did_you_mean(test_id, catalogue.tests)}")
            continue
        names = [read.name for read in test.reads]
        if given.word is not None and not names and given.word not in (*test.outcome_ids(), NOT_DONE):
            hint = did_you_mean(given.word, test.outcome_ids())
            wanted = expected(test_id, catalogue)
            wrong("unknown-outcome", given.at, f"`{test_id}` cannot be `{given.word}`{hint}; expected {wanted}")
        if given.word not in (None, NOT_DONE) and len(names) > 1:
            wrong("readings-missing", given.at, f"`{test_id}` reads numbers; expected {expected(test_id, catalogue)}")
        for name, said in given.readings.items():
            if name not in names:
                hint = did_you_mean(name, names)
                wanted = expected(test_id, catalogue)
                wrong("unknown-reading", said.at, f"`{test_id}` has no reading `{name}`{hint}; expected {wanted}")
    for procedure, runs in file.procedures.items():
        for run in runs:
            if procedure not in catalogue.procedures:
                hint = did_you_mean(procedure, catalogue.procedures)
                wrong("unknown-procedure", run.at, f"there is no procedure `{procedure}`{hint}")
    return tuple(found)
