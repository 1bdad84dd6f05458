"""`diagtree check` as it is called: paths, standard input, formats, strictness, explanations and exit statuses."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

from diagtree.check.example import BASE
from diagtree.check.rule import rules
from diagtree.report.findings import formats
from diagtree.report.rules_page import FAMILIES
from diagtree.terminal.main import main

CAPS = pytest.CaptureFixture[str]
KEYS = {"rule", "level", "file", "line", "column", "message", "witness"}
WRONG = BASE["tree.yaml"].replace("{conclude: sensor-open}", "{conclude: sensr-open}")
REMARKED = BASE["workshop.yaml"].replace("\n", "\r\n")


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


@pytest.fixture
def house(tmp_path: Path) -> Path:
    return written(tmp_path / "house")


def written(folder: Path, **more: str) -> Path:
    for name, text in {**BASE, **more}.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        (folder / name).write_bytes(text.encode())
    return folder


def rows(out: str) -> list[dict[str, object]]:
    found: list[dict[str, object]] = json.loads(out)["findings"]
    return found


def test_no_finding_is_status_0(house: Path, capsys: CAPS) -> None:
    assert main(["check", str(house)]) == 0
    out, err = capsys.readouterr()
    assert out == ""
    assert err == "0 findings; 3 files\n"


def test_json_has_the_keys_of_the_design(tmp_path: Path, capsys: CAPS) -> None:
    assert main(["check", "--format", "json", str(written(tmp_path / "h", **{"tree.yaml": WRONG}))]) == 1
    out = capsys.readouterr().out
    (wrong,) = [one for one in rows(out) if one["rule"] == "unknown-cause"]
    assert wrong.keys() == KEYS
    assert (wrong["level"], wrong["line"], wrong["column"], wrong["witness"]) == ("error", 16, 24, None)
    assert str(wrong["file"]).endswith("h/tree.yaml")
    assert "did you mean" in str(wrong["message"])


def test_several_folders_are_checked_each_once(house: Path, tmp_path: Path, capsys: CAPS) -> None:
    other = written(tmp_path / "other", **{"tree.yaml": WRONG})
    assert main(["check", "--format", "json", str(house), str(other), str(other)]) == 1
    found = [one for one in rows(capsys.readouterr().out) if one["rule"] == "unknown-cause"]
    assert [str(one["file"]).endswith("other/tree.yaml") for one in found] == [True]


def test_a_file_tells_only_its_own(tmp_path: Path, capsys: CAPS) -> None:
    house = written(tmp_path / "h", **{"tree.yaml": WRONG})
    assert main(["check", str(house / "workshop.yaml"), str(house / "catalogue" / "catalogue.yaml")]) == 0
    assert "2 files" in capsys.readouterr().err
    assert main(["check", str(house / "tree.yaml"), str(house / "workshop.yaml")]) == 1
    assert "[unknown-cause]" in capsys.readouterr().out


def test_files_of_the_present_folder_are_named_plainly(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS
) -> None:
    monkeypatch.chdir(written(tmp_path / "h", **{"tree.yaml": WRONG}))
    assert main(["check", "."]) == 1
    assert "\ntree.yaml:16:24 error:" in f"\n{capsys.readouterr().out}"


def test_a_file_that_is_no_text_is_told_whatever_was_asked_for(
    house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS
) -> None:
    (house / "tree.yaml").write_bytes(b"tree: \xff\n")
    monkeypatch.chdir(house)
    for path in ("tree.yaml", str(house / "tree.yaml"), "workshop.yaml"):  # nothing could be looked at beside it
        assert main(["check", path]) == 1
        assert "1:7 error: byte 0xFF is not UTF-8" in capsys.readouterr().out


def test_strict_counts_remarks(tmp_path: Path, capsys: CAPS) -> None:
    house = written(tmp_path / "h", **{"workshop.yaml": REMARKED})
    assert main(["check", str(house)]) == 0
    assert "remark: " in capsys.readouterr().out
    assert main(["check", "--strict", str(house)]) == 1


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["no-such"], "does not exist"),
        (["--format", "jsn", "."], "did you mean `json`?"),
        (["explain"], "name one rule"),
        (["explain", "unreached-stp"], "did you mean `unreached-step`?"),
        (["explain", "unreached-step", "loop"], "name one rule"),
        (["--schema", "trees"], "trees"),
    ],
)
def test_wrong_use_is_status_2_in_one_line(words: list[str], said: str, capsys: CAPS) -> None:
    assert main(["check", *words]) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert said in err
    assert err.count("\n") == 1


def test_a_file_that_is_no_knowledge_is_wrong_use(house: Path, capsys: CAPS) -> None:
    (house / "notes.txt").write_text("x", "utf-8")
    assert main(["check", str(house / "notes.txt")]) == 2
    assert "no knowledge file" in capsys.readouterr().err


def test_an_empty_folder_is_wrong_use(tmp_path: Path, capsys: CAPS) -> None:
    (tmp_path / "empty").mkdir()
    assert main(["check", str(tmp_path / "empty")]) == 2
    assert "no `*.yaml`" in capsys.readouterr().err


def test_a_file_that_cannot_be_opened_is_status_2(house: Path, capsys: CAPS) -> None:
    (house / "gone.yaml").symlink_to(house / "nowhere.yaml")
    assert main(["check", str(house)]) == 2
    assert "gone.yaml" in "".join(capsys.readouterr())


class Typed:
    """Standard input with these bytes."""

    def __init__(self, data: bytes) -> None:
        self.buffer = io.BytesIO(data)

    def isatty(self) -> bool:
        return False


def typed(monkeypatch: pytest.MonkeyPatch, data: bytes) -> None:
    monkeypatch.setattr("sys.stdin", Typed(data))


def test_standard_input_is_checked_against_the_folders_catalogue(
    house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS
) -> None:
    typed(monkeypatch, WRONG.encode())
    assert main(["--trees", str(house), "check", "--format", "json", "-"]) == 1
    (wrong, *_) = [one for one in rows(capsys.readouterr().out) if one["level"] == "error"]
    assert wrong["rule"] == "unknown-cause"
    assert str(wrong["file"]).endswith("house/tree.yaml")


def test_standard_input_bears_the_name_that_it_says(house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS) -> None:
    typed(monkeypatch, BASE["tree.yaml"].replace("tree: tree", "tree: new-one").encode())
    assert main(["--trees", str(house), "check", "-"]) == 0, capsys.readouterr()


def test_standard_input_bears_a_given_name(house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS) -> None:
    typed(monkeypatch, BASE["tree.yaml"].encode())
    assert main(["--trees", str(house), "check", "--stdin-name", "other", "-"]) == 1
    assert "must be the name of its file, `other`" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("data", "name", "said"), [(b"\xff", "a.yaml", "not UTF-8"), (b"a: b", "../a.yaml", "name the")]
)
def test_standard_input_that_cannot_be_taken_is_wrong_use(
    data: bytes, name: str, said: str, house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS
) -> None:
    typed(monkeypatch, data)
    assert main(["--trees", str(house), "check", "--stdin-name", name, "-"]) == 2
    assert said in capsys.readouterr().err


def test_a_catalogue_on_standard_input_asks_for_its_name(
    house: Path, monkeypatch: pytest.MonkeyPatch, capsys: CAPS
) -> None:
    typed(monkeypatch, BASE["catalogue/catalogue.yaml"].encode())
    assert main(["--trees", str(house), "check", "-"]) == 2
    assert "--stdin-name catalogue/" in capsys.readouterr().err
    typed(monkeypatch, BASE["catalogue/catalogue.yaml"].encode())
    assert main(["--trees", str(house), "check", "--stdin-name", "catalogue/catalogue.yaml", "-"]) == 0


def test_the_catalogue_alone_is_not_taken_for_a_folder_of_trees(house: Path, capsys: CAPS) -> None:
    assert main(["check", str(house / "catalogue")]) == 2
    assert "is a part of the knowledge folder" in capsys.readouterr().err


@pytest.mark.parametrize("rule", [rule.id for rule in rules()])
def test_every_rule_is_explained_with_both_examples(rule: str, capsys: CAPS) -> None:
    assert main(["check", "explain", rule]) == 0
    out = capsys.readouterr().out
    for head in (f"{rule}: ", "What it finds:", "Why it hurts:", "Fires on:", "Silent on:"):
        assert head in out


def test_the_list_names_every_rule_under_its_family(capsys: CAPS) -> None:
    assert main(["check", "--list"]) == 0
    out = capsys.readouterr().out
    assert re.findall(r"^  ([\w-]+) \(", out, re.MULTILINE) == [
        rule.id for family in FAMILIES for rule in rules() if rule.family == family
    ]
    assert {rule.family for rule in rules()} <= FAMILIES.keys()


def test_github_annotations_are_escaped(tmp_path: Path, capsys: CAPS) -> None:
    folder = written(tmp_path / "a,b", **{"tree.yaml": WRONG})
    assert main(["check", "--format", "github", str(folder)]) == 1
    out = capsys.readouterr().out
    line = next(row for row in out.splitlines() if "unknown-cause" in row)
    assert re.fullmatch(r"::error file=\S*a%2Cb/tree\.yaml,line=16,col=24,title=unknown-cause::.*", line)
    assert line.count("::") == 2


def test_every_format_is_offered_and_takes_no_finding(house: Path, capsys: CAPS) -> None:
    assert {one.id for one in formats()} >= {"text", "json", "sarif", "github"}
    for one in formats():
        assert main(["check", "--format", one.id, str(house)]) == 0, one.id
    capsys.readouterr()


def test_worth_is_asked_for(house: Path, capsys: CAPS) -> None:
    from diagtree.check.run import usual_rules

    assert not [rule for rule in usual_rules() if rule.family == "worth"]
    assert usual_rules(worth=True, walks=True) == rules()
    assert main(["check", "--worth", str(house)]) in (0, 1)
    capsys.readouterr()


def test_colours_only_on_a_screen_that_may(monkeypatch: pytest.MonkeyPatch) -> None:
    from diagtree.terminal.setting import Setting
    from diagtree.terminal.views.findings import coloured

    class Screen(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.delenv("NO_COLOR", raising=False)
    assert coloured(Setting(out=Screen()))
    assert not coloured(Setting(out=io.StringIO()))
    assert not coloured(Setting(out=Screen(), plain=True))
    monkeypatch.setenv("NO_COLOR", "1")
    assert not coloured(Setting(out=Screen()))
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not coloured(Setting(out=Screen()))
