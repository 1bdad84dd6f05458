"""Lines that stand while a search runs, and lines that are fitted to a screen."""

from __future__ import annotations

import io

import pyte
import pytest

from diagtree.terminal.setting import Setting


def on_screen(monkeypatch: pytest.MonkeyPatch) -> Setting:
    monkeypatch.setattr(Setting, "has_screen", property(lambda setting: True))
    monkeypatch.setattr(Setting, "columns", property(lambda setting: 40))
    return Setting(out=io.StringIO())


def shown(setting: Setting) -> list[str]:
    assert isinstance(setting.out, io.StringIO)
    screen = pyte.Screen(80, 24)
    pyte.Stream(screen).feed(setting.out.getvalue().replace("\n", "\r\n"))
    return [line.rstrip() for line in screen.display if line.strip()]


def test_the_first_advice_stands_while_the_search_runs_and_goes_when_it_is_done(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    setting = on_screen(monkeypatch)
    setting.say("$ next 1")
    with setting.meanwhile(["at first sight", "1. test ohms"]):
        assert shown(setting) == ["$ next 1", "at first sight", "1. test ohms"]
    assert shown(setting) == ["$ next 1"]
    setting.say("1. correct sensor")
    assert shown(setting) == ["$ next 1", "1. correct sensor"]


def test_it_goes_also_where_the_search_ends_in_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    setting = on_screen(monkeypatch)
    with pytest.raises(KeyboardInterrupt), setting.meanwhile(["at first sight"]):
        raise KeyboardInterrupt
    assert shown(setting) == []


def test_a_pipe_gets_one_final_output() -> None:
    setting = Setting(out=io.StringIO())
    with setting.meanwhile(["at first sight"]):
        setting.say_wrapped(["the advice " * 20])
    assert isinstance(setting.out, io.StringIO)
    assert setting.out.getvalue() == "the advice " * 20 + "\n"


def test_long_lines_go_on_further_in(monkeypatch: pytest.MonkeyPatch) -> None:
    setting = on_screen(monkeypatch)
    setting.say_wrapped(["   one two three four five six seven eight nine", "", "short"])
    assert isinstance(setting.out, io.StringIO)
    assert setting.out.getvalue() == "   one two three four five six seven\n     eight nine\n\nshort\n"


def test_a_command_to_go_on_with_names_again_what_was_typed_and_only_that() -> None:
    typed = Setting(trees="my trees", store="c.db", said=("trees", "store"))
    assert typed.command("walk 1") == "diagtree --store c.db walk 1"
    assert typed.command("quiz", "trees") == "diagtree --trees 'my trees' quiz"
    assert Setting(store="c.db").command("walk 1") == "diagtree walk 1", "the environment stays by itself"
