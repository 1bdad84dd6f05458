"""Cases as lines: never wider than the screen, and each line says which complaint it is."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.cases.case_number import CaseId
from diagtree.cases.store import CaseRow
from diagtree.terminal.views.cases import head, record, table

TIME = "2026-03-01T09:00:00+00:00"


def row(complaint: str, title: str, vehicle: str = "petrel-2", status: str = "open") -> CaseRow:
    return CaseRow(CaseId("2026-0001"), "triage", complaint, title, vehicle, status, TIME, TIME, None, 3)


def test_before_the_hand_over_a_line_shows_the_desk_and_the_owners_words_after_it_the_complaint() -> None:
    desk, sorted_out = table([row("triage", "it is slow"), row("slow-ac", "it is slow")], 80)
    assert desk.endswith("desk: it is slow  petrel-2")
    assert sorted_out.endswith("slow-ac           petrel-2")
    assert next(iter(table([row("slow-ac", "it is slow")], None))).split("  ")[2] == "slow-ac"
    assert record(row("slow-ac", "it is slow"))["complaint"] == "slow-ac"
    assert "tree     slow-ac (begun with triage): it is slow" in list(head(row("slow-ac", "it is slow")))


@given(
    st.lists(
        st.builds(
            row,
            st.sampled_from(["triage", "cuts-out-after-a-while", "slow-ac"]),
            st.text("ab ", max_size=60),
            st.sampled_from(["", "petrel-2", "a-car-with-a-long-name", f"a-car-with-{'many-' * 20}letters"]),
            st.sampled_from(["open", "closed"]),
        ),
        max_size=5,
    ),
    st.integers(40, 200),
)
@settings(deadline=None, max_examples=100)
def test_no_line_is_wider_than_the_screen(rows: list[CaseRow], columns: int) -> None:
    lines = list(table(rows, columns))
    assert all(len(line) <= columns for line in lines)
    assert len(lines) >= max(1, len(rows))
