"""The one module that knows questionary: one line typed by a person, and nothing that was typed before it was asked."""

from __future__ import annotations

import sys

import questionary
from prompt_toolkit.application.current import get_app_session
from prompt_toolkit.input.typeahead import clear_typeahead

from diagtree.terminal.interrupted import Interrupted
from diagtree.terminal.typeahead import drop_typeahead

_STYLE = questionary.Style([("qmark", "bold"), ("question", "bold"), ("answer", "")])


def ask_line(label: str) -> str:
    """Return the line that is typed after `label`, without its outer blanks.

    Ctrl-C and end of input raise Interrupted, wherever they happen; `ask` would print a word and go on instead.
    """
    question = questionary.text(">", qmark=label or "-", style=_STYLE)
    clear_typeahead(get_app_session().input)
    drop_typeahead(sys.stdin)
    try:
        line = question.unsafe_ask()
    except (KeyboardInterrupt, EOFError) as gone:
        raise Interrupted from gone
    return str(line).strip()
