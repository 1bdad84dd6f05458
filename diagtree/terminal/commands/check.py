"""Read every knowledge file and tell every mistake with file and line."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from diagtree.terminal.commands import FINDINGS, FINE
from diagtree.terminal.setting import Setting

if TYPE_CHECKING:
    from diagtree.knowledge.place import Finding


@click.command("check")
@click.option("--format", "style", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.argument("paths", nargs=-1, metavar="[PATH]...", type=click.Path(path_type=Path))
@click.pass_obj
def check(setting: Setting, style: str, paths: tuple[Path, ...]) -> int:
    """Read every knowledge file and tell every mistake with its file, line and column.

    PATH is a knowledge folder, or one file of it: then only that file's mistakes are told. Status 1 if there is an
    error or a warning.
    """
    from diagtree.knowledge.place import Level

    found = [one for path in paths for one in _findings_at(path)] if paths else _findings_in(setting)
    if style == "json":
        setting.document({"schema": 1, "findings": [_row(one) for one in found]})
    else:
        for one in found:
            setting.say(str(one))
        setting.talk(f"{len(found)} finding{'' if len(found) == 1 else 's'}")
    return FINDINGS if any(one.level is not Level.REMARK for one in found) else FINE


def _findings_in(setting: Setting) -> list[Finding]:
    from diagtree.errors import KnowledgeError
    from diagtree.knowledge.place import Finding

    try:
        return list(setting.library().all_findings())
    except KnowledgeError as error:  # a file that is no text at all is a finding too
        return [one for one in error.findings if isinstance(one, Finding)]


def _findings_at(path: Path) -> list[Finding]:
    if not path.is_file():
        return _findings_in(Setting(trees=str(path)))
    folder = next((one for one in path.absolute().parents if (one / "catalogue").is_dir()), path.absolute().parent)
    found = _findings_in(Setting(trees=str(folder)))
    return [one for one in found if Path(one.place.file).absolute() == path.absolute()]


def _row(finding: Finding) -> dict[str, object]:
    return {
        "rule": finding.rule,
        "level": finding.level.value,
        "file": finding.place.file,
        "line": finding.place.line,
        "column": finding.place.column,
        "message": finding.message,
        "witness": finding.witness,
    }


COMMAND = check
