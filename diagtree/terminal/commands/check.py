"""Read every knowledge file and tell every mistake with file and line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagtree.errors import WrongUse
from diagtree.terminal.check_targets import Wish
from diagtree.terminal.commands import FINDINGS, FINE, WRONG_USE
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.check.rule import Rule
    from diagtree.knowledge.place import Finding
    from diagtree.report.findings import Checked, Format

EXPLAIN = "explain"
SAVED = "diagtree-walks"
KINDS = ("tree", "catalogue", "vehicle", "workshop")


@click.command("check")
@click.option(
    "--format", "style", metavar="FORMAT", default="text", show_default=True, help="text, json, sarif or github."
)
@click.option("--strict", is_flag=True, help="Status 1 for remarks too.")
@click.option("--worth", is_flag=True, help="Also whether the order of the steps is worth its money (a minute or two).")
@click.option("--walks", metavar="N", type=click.IntRange(min=1),
              help="Also N made-up walks, shared out over every tree on every car (500 take half a minute).")
@click.option("--seed", type=click.IntRange(0, 10**9), help="The walks of this seed once more.")
@click.option("--save", metavar="DIR", type=click.Path(path_type=Path, file_okay=False), default=Path(SAVED),
              show_default=True, help="Where a walk that went wrong is saved, to be replayed.")
@click.option("--list", "as_list", is_flag=True, help="Every rule, by family.")
@click.option(
    "--schema",
    metavar="[KIND]",
    is_flag=False,
    flag_value="tree",
    type=click.Choice(KINDS),
    help="JSON Schema, so that editors complete and underline: tree, catalogue, vehicle or workshop.",
)
@click.option(
    "--stdin-name", metavar="NAME", help="The file that standard input (`-`) stands for, named from the folder."
)
@click.option("--no-cache", is_flag=True, help="Look at everything again.")
@click.argument("paths", nargs=-1, metavar="[PATH]... | explain RULE")
@click.pass_obj
def check(
    setting: Setting, style: str, strict: bool, worth: bool, walks: int | None, seed: int | None, save: Path,
    as_list: bool, schema: str | None, stdin_name: str | None, no_cache: bool, paths: tuple[str, ...],
) -> int:  # fmt: skip
    """Read every knowledge file and tell every mistake with its file, line and column.

    PATH is a knowledge folder, one file of it (only that file's mistakes are told), or `-` for a tree on standard
    input. `check explain RULE` says what a rule finds, why it matters, and shows two examples. Status 1 if there is an
    error or a warning, 2 if something could not be read.
    """
    if schema is not None:
        return _schema(setting, schema)
    if as_list:
        return _list(setting)
    if paths[:1] == (EXPLAIN,):
        return _explain(setting, paths[1:])
    if seed is not None and walks is None:
        raise WrongUse("`--seed` is for `--walks N`; say how many walks")
    wish = Wish(worth, walks or 0, (_new_seed() if seed is None else seed) if walks else 0)
    return _check(setting, _format(style), paths, stdin_name, wish, save, strict=strict, cached=not no_cache)


def _format(word: str) -> Format:
    from diagtree.physics.nearest import did_you_mean
    from diagtree.report.findings import formats

    known = {one.id: one for one in formats()}
    if word not in known:
        hint = did_you_mean(word, known) or f"; there are {', '.join(known)}"
        raise WrongUse(f"there is no format `{word}`{hint}")
    return known[word]


def _check(
    setting: Setting, style: Format, paths: tuple[str, ...], stdin_name: str | None, wish: Wish, save: Path, *,
    strict: bool, cached: bool,
) -> int:  # fmt: skip
    from diagtree import __version__
    from diagtree.knowledge.place import Level
    from diagtree.report.findings import Checked
    from diagtree.terminal.check_targets import look, targets

    if wish.walks:
        setting.talk(f"{wish.walks} made-up walks; the same again with `--walks {wish.walks} --seed {wish.seed}`")
    looked = [look(one, wish, cached=cached) for one in targets(paths, setting.trees, stdin_name)]
    found = tuple(dict.fromkeys(_saved(setting, one, save) for each in looked for one in each.findings))
    texts = {name: text for each in looked for name, text in each.texts.items()}
    checked = Checked(found, texts, _rules() if style.names_rules else (), __version__, strict)
    _show(setting, style, checked, sum(each.files for each in looked))
    if any(one.rule == "unreadable-file" for one in found):
        return WRONG_USE
    return FINDINGS if any(strict or one.level is not Level.REMARK for one in found) else FINE


def _new_seed() -> int:
    import secrets

    return secrets.randbelow(10**6)


def _saved(setting: Setting, finding: Finding, folder: Path) -> Finding:
    """Return the finding with the name of the file in which its walk was saved; any other finding as it is."""
    if finding.rule != "walk-breaks-law" or finding.witness is None:
        return finding
    from dataclasses import replace
    from hashlib import sha256

    from diagtree.terminal.write_whole import write_whole

    name = f"{Path(finding.place.file).stem}-{sha256(finding.witness.encode()).hexdigest()[:8]}.yaml"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(folder / name, finding.witness, overwrite=True)
    except (OSError, WrongUse) as error:
        setting.talk(f"diagtree: the walk could not be saved in {folder}: {error}")
        return finding
    return replace(finding, message=f"{finding.message}; saved as {folder / name}")


def _show(setting: Setting, style: Format, checked: Checked, files: int) -> None:
    if style.id != "text":
        setting.out.write(style.render(checked))
        return
    from diagtree.report.findings.text import lines, summary
    from diagtree.terminal.views.findings import coloured, painted

    laid_out = lines(checked, setting.columns)
    if coloured(setting):
        for line in painted(laid_out, setting.out.encoding or "utf-8"):
            print(line, file=setting.out)
    else:
        for spans in laid_out:
            setting.say("".join(span.text for span in spans).rstrip())
    setting.talk(f"{summary(checked)}; {files} file{'' if files == 1 else 's'}")


def _explain(setting: Setting, words: tuple[str, ...]) -> int:
    from diagtree.physics.nearest import did_you_mean
    from diagtree.report.rules_page import explanation

    known = {rule.id: rule for rule in _rules()}
    if len(words) != 1:
        raise WrongUse("name one rule, `diagtree check explain unreached-step`; `diagtree check --list` names them all")
    if words[0] not in known:
        hint = did_you_mean(words[0], known)
        raise WrongUse(f"there is no rule `{words[0]}`{hint}; `diagtree check --list` names them all")
    for line in explanation(known[words[0]]):
        setting.say(line)
    return FINE


def _list(setting: Setting) -> int:
    from diagtree.report.rules_page import listing

    for line in listing(_rules()):
        setting.say(line)
    return FINE


def _schema(setting: Setting, kind: str) -> int:
    from diagtree.report.schema import schema_of

    setting.document(schema_of(kind))
    return FINE


def _rules() -> tuple[Rule, ...]:
    from diagtree.check.rule import rules

    return rules()


COMMAND = check
