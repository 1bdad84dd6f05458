"""`next` on cases whose way out is decided: nothing is weighed any more, and that is said."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagtree.terminal.main import main
from tests.reason.test_next_act import workshop
from tests.terminal.test_planning_commands import answered, laid_out, on_sale, walked


@pytest.mark.parametrize(("shown", "ended", "on_the_way"), [
    ("fine", "referred", "The car is referred: nothing is left to weigh"),
    ("bad", "advised", "The case ends in advice to the owner: nothing is left to weigh"),
])
def test_nothing_is_weighed_once_the_owner_is_advised_or_the_car_referred(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, shown: str, ended: str,
    on_the_way: str,
) -> None:
    """Closed so, and as long as it is decided but not closed, while the car is put back."""
    document = on_sale(workshop(referral=5000, comeback=6000))
    document["tree"]["steps"]["ohms"]["then"]["fine"] = {"refer": "a charging specialist"}
    harness = document["causes"]["harness"]
    del harness["correction"], harness["proof"]
    harness["advise"] = {"do": "Tell the owner.", "minutes": 10}
    trees, store = laid_out(document, tmp_path / "trees"), str(tmp_path / "cases.db")
    way = f"answers: {{ohms: {shown}}}\ngo-on: yes\n"
    way += "procedures: {make-safe: {secure: lead, absence: [0.1, 0.1, 0.1]}}\n"
    case = walked(trees, store, capsys, way)
    for said in (f"The case is closed as {ended}: nothing is left to weigh", on_the_way):
        found = answered(capsys, "--store", store, "next", case)
        assert found["doubt"].startswith(said)
        assert (found["acts"], found["tree_says"], found["shared_access"]) == ([], None, [])
        assert main(["--store", store, "next", found["case"]]) == 0
        page = capsys.readouterr().out
        assert said in page.replace("\n", " ")
        assert "whole case" not in page
        monkeypatch.setattr("diagtree.terminal.run_walk.CLOSED", "so that this one counts as open still")
