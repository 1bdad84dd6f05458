"""Generated knowledge of a given size: a tree of many steps, and a folder as large as the shipped one will be."""

from __future__ import annotations

import re
from collections.abc import Mapping

TREES, CATALOGUES, VEHICLES = 16, 2, 4


def deep_tree(steps: int) -> dict[str, str]:
    """Return a folder with one tree of `steps` steps, an even tree of two branches a step, over as many tests.

    Every test is asked once on a path and has its own causes, so that there is something to compute everywhere.
    """
    causes = [f"c{number}" for number in range(64)]
    share = ", ".join(f"{cause}: {100 / 64:g}" for cause in causes)
    rows = ["diagtree: 1", "tree: tree", "title: AC charging fails", "revision: 1", f"causes: {{{share}}}"]
    rows += ["start: s0", "steps:"]
    for number in range(steps):
        below = [2 * number + 1, 2 * number + 2]
        depth = (number + 1).bit_length() - 1
        ends = [f"{{conclude: {causes[(number * 7 + side) % 64]}}}" for side in (0, 1)]
        first, second = (f"s{one}" if one < steps else end for one, end in zip(below, ends, strict=True))
        rows += [f"  s{number}:", f"    test: t{depth}", "    then:", f"      yes: {first}", f"      no: {second}"]
    return {"tree.yaml": "\n".join(rows) + "\n", "catalogue/all.yaml": _flat_catalogue(causes, steps.bit_length())}


def _flat_catalogue(causes: list[str], tests: int) -> str:
    rows = ["tests:"]
    for test in range(tests):
        rows += [
            f"  t{test}:", f"    ask: Is lamp {test} on?", "    place: reception", "    minutes: 1",
            "    outcomes: [yes, no]", "    healthy: no", "    mistake: 5", "    source: estimate, common practice",
        ]  # fmt: skip
    rows.append("causes:")
    for number, cause in enumerate(causes):
        shown = ", ".join(f"t{test}: {{yes: {30 + (number * 5 + test) % 40}, no: {70 - (number * 5 + test) % 40}}}"
                          for test in range(tests))  # fmt: skip
        rows += [
            f"  {cause}:", f"    name: Fault {number}", "    where: outside", f"    shows: {{{shown}}}",
            "    advise: {do: Have it checked., minutes: 10}",
        ]  # fmt: skip
    return "\n".join(rows) + "\n"


def grown(texts: Mapping[str, str]) -> dict[str, str]:
    """Return the shipped knowledge grown to 16 trees on 2 catalogues and 4 vehicles, by copies under other names.

    Each catalogue is the shipped one with a number behind its names; each holds eight copies of one tree.
    """
    found = {"workshop.yaml": texts["workshop.yaml"]}
    tree = "ac-fails-dc-works.yaml"
    cars = sum(name.startswith("vehicles/") for name in texts)
    names = _names(texts)
    for copy in range(CATALOGUES):
        for name, text in texts.items():
            if name.startswith("catalogue/") and not name.endswith(("procedures.yaml", "access.yaml")):
                found[f"catalogue/{copy}-{name.removeprefix('catalogue/')}"] = _renamed(text, names, copy)
        for number in range(TREES // CATALOGUES):
            stem = f"tree-{copy}-{number}"
            body = re.sub(r"\{hand-over: [\w-]+\}", "{refer: somebody else}", _renamed(texts[tree], names, copy))
            found[f"{stem}.yaml"] = re.sub(r"^tree: .*$", f"tree: {stem}", body, flags=re.MULTILINE)
    for name, text in texts.items():
        if name.endswith(("procedures.yaml", "access.yaml")):
            found[name] = text
        elif name.startswith("vehicles/"):
            stem = name.removeprefix("vehicles/").removesuffix(".yaml")
            for copy in range(max(1, VEHICLES // cars)):
                body = _renamed(text, names, copy)
                other = stem if not copy else f"{stem}-{copy}"
                found[f"vehicles/{other}.yaml"] = body.replace(f"vehicle: {stem}", f"vehicle: {other}", 1)
    return found


def _names(texts: Mapping[str, str]) -> frozenset[str]:
    """Return the names of the shipped tests and causes."""
    from diagtree.knowledge.library import read_library

    catalogue = read_library(texts).catalogue(None)
    return frozenset(catalogue.tests) | frozenset(catalogue.causes)


def _renamed(text: str, names: frozenset[str], copy: int) -> str:
    return re.sub(r"[a-z][\w-]*", lambda found: f"{found[0]}-{copy}" if found[0] in names else found[0], text)


