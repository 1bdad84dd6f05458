"""The command line: options before the command, the command found by its file, and every end an exit status."""

from __future__ import annotations

import os
import sys
from collections.abc import Sequence
from typing import Any

import click

from diagtree import __version__
from diagtree.errors import DiagtreeError, KnowledgeError
from diagtree.physics.nearest import did_you_mean
from diagtree.terminal import commands
from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.setting import Setting

_MOST_FINDINGS = 10
_TYPED = click.core.ParameterSource.COMMANDLINE
_HELP = {"help_option_names": ["-h", "--help"], "max_content_width": 100}


class Commands(click.Group):
    """A group that imports a command only when it is called, and lists all of them without importing any."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 - click's signature
        return list(commands.modules())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        return commands.load(cmd_name) if cmd_name in commands.modules() else None

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        if args and args[0] not in commands.modules():
            hint = did_you_mean(args[0], commands.modules()) or f" (there are {', '.join(commands.modules())})"
            raise click.UsageError(f"no command `{args[0]}`{hint}", ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        rows = [(name, commands.summary(name)) for name in commands.modules()]
        with formatter.section("Commands"):
            formatter.write_dl(rows or [("-", "none installed")])


@click.command(cls=Commands, context_settings=_HELP, invoke_without_command=True)
@click.option("--trees", metavar="DIR", envvar="DIAGTREE_TREES", help="Knowledge folder (default: the one that ships).")
@click.option("--store", metavar="URL", envvar="DIAGTREE_STORE", help="Case store (default: in your data folder).")
@click.option("--plain", is_flag=True, envvar="DIAGTREE_PLAIN", help="Append-only lines, numbers to type, no colours.")
@click.version_option(__version__, message="diagtree %(version)s")
@click.pass_context
def program(ctx: click.Context, trees: str | None, store: str | None, plain: bool) -> None:
    """Find the cause of an electric car's charging complaint, test by test, and prove the repair."""
    typed = [name for name in ("trees", "store") if ctx.get_parameter_source(name) is _TYPED]
    ctx.obj = Setting(trees=trees or None, store=store or None, plain=plain, said=tuple(typed))
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command line and return its exit status. Nothing but an exit of the process itself gets past it."""
    _prepare_streams()
    try:
        status = _run(arguments)
        sys.stdout.flush()
    except BrokenPipeError:  # the reader has seen enough, as `head` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return commands.FINE
    return status


def _run(arguments: Sequence[str] | None) -> int:
    try:
        status = program.main(args=arguments, prog_name="diagtree", standalone_mode=False)
    except click.ClickException as error:
        return _wrong_use(error)
    except DiagtreeError as error:
        _tell(str(error))
        _tell_findings(error)
        return commands.WRONG_USE
    except Interrupted as interrupted:
        if str(interrupted):
            _tell(str(interrupted))
        return commands.INTERRUPTED
    except (KeyboardInterrupt, EOFError, click.Abort):
        _tell("interrupted")
        return commands.INTERRUPTED
    except BrokenPipeError:
        raise
    except Exception as error:
        return _bug(error)
    return status if isinstance(status, int) else commands.FINE


def _wrong_use(error: click.ClickException) -> int:
    context = getattr(error, "ctx", None)
    if isinstance(error, click.exceptions.NoArgsIsHelpError):
        click.echo(error.format_message(), err=True)
        return commands.WRONG_USE
    message = error.format_message().rstrip(".")
    _tell(f"{message}; see `{context.command_path} --help`" if context else message)
    return commands.WRONG_USE


def _bug(error: Exception) -> int:
    if os.environ.get("DIAGTREE_DEBUG"):
        import traceback

        traceback.print_exception(error)
    case = getattr(error, "diagtree_case", None)
    where = f"; case {case}: your answers are saved" if case else ""
    _tell(
        f"a mistake in diagtree itself: {type(error).__name__}: {error}{where} "
        "(DIAGTREE_DEBUG=1 shows the details for a report)"
    )
    return commands.BUG


def _tell_findings(error: DiagtreeError) -> None:
    if isinstance(error, KnowledgeError):
        for finding in error.findings[:_MOST_FINDINGS]:
            Setting().talk(str(finding))
        if len(error.findings) > _MOST_FINDINGS:
            Setting().talk(f"and {len(error.findings) - _MOST_FINDINGS} more: `diagtree check` tells all")


def _tell(message: str) -> None:
    line = " ".join(message.splitlines())
    Setting().talk(f"diagtree: {line}")


def _prepare_streams() -> None:
    # A stream that cannot carry a letter shows a question mark for it instead of ending the program.
    streams: list[Any] = [sys.stdout, sys.stderr, sys.stdin]
    for stream in streams:
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")
