"""Lists, statuses, finding, and the owner's data."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagtree.cases.listing import cut
from diagtree.cases.store import CaseRow, CaseStore, open_store
from diagtree.errors import WrongUse

from .helpers import AT, TEXTS, begin, event


def ids(rows: list[CaseRow]) -> list[str]:
    return [row.id for row in rows]


def test_a_row_tells_what_the_case_is_now(store: CaseStore) -> None:
    case_id = begin(store)
    store.append(case_id, 0, [event(5), {"type": "without a time"}])
    assert store.cases() == [
        CaseRow(
            id=case_id,
            tree="ac-fails-dc-works",
            complaint="ac-fails-dc-works",
            title="AC charging fails, DC charging works",
            vehicle="petrel-2",
            status="open",
            opened=AT,
            changed=event(5)["at"],
            by="technician",
            events=2,
        )
    ]
    assert store.row(case_id) == store.cases()[0]


def test_what_the_case_was_begun_with_may_lack_title_and_vehicle(store: CaseStore) -> None:
    row = store.row(store.begin("t", TEXTS, {"vehicle": None}, AT, None))
    assert (row.title, row.vehicle, row.by, row.changed, row.events) == ("", "", None, AT, 0)


GO_ON, LOOKED = {"type": "Decided", "what": "go-on"}, {"type": "Looked", "found": "nothing"}


@pytest.mark.parametrize(
    ("events", "complaint"),
    [
        ([LOOKED], "triage"),
        ([LOOKED, {**GO_ON, "key": "slow-ac"}], "slow-ac"),
        ([LOOKED, {**GO_ON, "key": "slow-ac"}, {**GO_ON, "key": "slow-dc"}], "slow-dc"),
        ([LOOKED, {**GO_ON, "key": "slow-ac"}, {"type": "Undone", "count": 1}], "triage"),
        ([LOOKED, {**GO_ON, "key": "slow-ac"}, LOOKED, {"type": "Undone", "count": 1}], "slow-ac"),
        ([LOOKED, {**GO_ON, "key": "slow-ac"}, {"type": "Noted"}, {"type": "Undone", "count": 9}], "triage"),
        ([LOOKED, {"type": "Noted", "text": "go-on", "what": "go-on", "key": "slow-ac"}], "triage"),
        ([{"type": "Decided", "what": "refer", "key": "go-on"}], "triage"),
    ],
)
def test_a_case_stands_in_the_complaint_it_was_handed_over_to(
    store: CaseStore, events: list[dict[str, object]], complaint: str
) -> None:
    case_id = store.begin("triage", TEXTS, {"title": "it is slow"}, AT, None)
    store.append(case_id, 0, [{"at": AT, "v": 1, **one} for one in events])
    assert (store.row(case_id).tree, store.row(case_id).complaint) == ("triage", complaint)
    assert ids(store.cases(tree="triage")) == [case_id]
    assert ids(store.cases(tree=complaint)) == [case_id]
    assert store.cases(tree="plug-stuck") == []


def test_at_the_desk_a_case_is_called_by_what_the_owner_says(store: CaseStore) -> None:
    case_id = store.begin("triage", TEXTS, {"title": "Which complaint is it?"}, AT, None)
    assert store.row(case_id).title == "Which complaint is it?"
    said = {"type": "Complained", "v": 1, "at": AT, "words": "it is slow\nand " + "very " * 20}
    store.append(case_id, 0, [said])
    assert store.row(case_id).title.startswith("it is slow and very very")
    assert len(store.row(case_id).title) == 60
    store.append(case_id, 1, [{"type": "Undone", "v": 1, "at": AT, "count": 1}])
    assert store.row(case_id).title == "Which complaint is it?"
    other = store.begin("slow-ac", TEXTS, {"title": "AC is slow"}, AT, None)
    store.append(other, 0, [said])
    assert store.row(other).title == "AC is slow"


def test_the_latest_status_counts_and_earlier_ones_are_kept(store: CaseStore) -> None:
    case_id = begin(store)
    store.append(case_id, 0, [event(0)], status="waiting for parts")
    store.set_status(case_id, "closed", "2026-03-03T09:00:00+00:00", "technician")
    store.set_status(case_id, "open", "2026-03-04T09:00:00+00:00")
    row = store.row(case_id)
    assert (row.status, row.changed) == ("open", "2026-03-04T09:00:00+00:00")
    assert [entry["status"] for entry in store.export(case_id)["statuses"]] == [
        "open", "waiting for parts", "closed", "open",
    ]  # fmt: skip
    assert store.verify(case_id) is None


def test_a_status_and_its_events_are_saved_together_or_not_at_all(store: CaseStore) -> None:
    case_id = begin(store)
    with pytest.raises(WrongUse, match="a status needs a word"):
        store.append(case_id, 0, [event(0)], status=" ")
    with pytest.raises(WrongUse, match="a status needs a time"):
        store.append(case_id, 0, [{"type": "without a time"}], status="closed")
    with pytest.raises(WrongUse, match="a status needs a word"):
        store.set_status(case_id, "", AT)
    assert store.events(case_id) == []
    assert store.row(case_id).status == "open"


def test_cases_are_listed_newest_first_and_by_every_filter(store: CaseStore) -> None:
    old = store.begin("slow-charge", TEXTS, {"vehicle": "marlin-1"}, "2025-11-01T08:00:00", None)
    second = store.begin("slow-charge", TEXTS, {"vehicle": "petrel-2"}, "2026-01-10T08:00:00", None)
    third = begin(store, "2026-01-11T08:00:00")
    store.set_status(second, "closed", "2026-01-12T08:00:00")
    assert ids(store.cases()) == [third, second, old]
    assert ids(store.cases(limit=2)) == [third, second]
    assert ids(store.cases(tree="slow-charge")) == [second, old]
    assert ids(store.cases(vehicle="petrel-2")) == [third, second]
    assert ids(store.cases(status="closed")) == [second]
    assert ids(store.cases(status="open")) == [third, old]
    assert ids(store.cases(since="2026-01-11")) == [third]
    assert store.cases(tree="slow-charge", status="open", vehicle="petrel-2") == []


def test_the_ten_thousandth_case_of_a_year_comes_after_the_others(store: CaseStore) -> None:
    first = begin(store)
    store._connection.execute(
        "INSERT INTO cases SELECT '2026-9999', 2026, 9999, tree, knowledge, opened, by, meta, hash FROM cases"
    )
    last = begin(store)
    assert last == "2026-10000"
    assert ids(store.cases()) == [last, "2026-9999", first]
    assert store.resolve("10000") == last


def test_cases_are_found_by_words_in_whatever_was_said(store: CaseStore) -> None:
    first = store.begin("slow-charge", TEXTS, {"title": "Lädt langsam", "more": ["wall box"]}, AT, "adviser")
    second = begin(store)
    store.append(second, 0, [{"type": "noted", "words": {"deep": ["Pin slightly GREEN", "ÖLIG"]}, "n": 12}])
    store.set_personal(first, {"name": "Owner of the blue one", "plate": "HL-QX 77"})
    for text in ["lädt", "LÄDT box", "slow", "adviser", "hl-qx", "2026-0001", "  blue "]:
        assert ids(store.find(text)) == [first], text
    assert ids(store.find("green ölig")) == [second]
    assert ids(store.find("open")) == [second, first]
    assert store.find("green lädt") == []
    assert store.find("gr%n") == store.find("gree_") == store.find("'") == store.find('"') == store.find("\\") == []
    assert store.find("words") == []  # a key, said by nobody
    assert ids(store.find("")) == [second, first]


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        ("straße", "STRASSE"),
        ("STRASSE", "straße"),
        ("\ufb01ne pin", "fine"),  # the ligature fi
        ("\u212a12", "k12"),  # the Kelvin sign
        ('the "hot" pin', '"HOT"'),
        ("100% \\ a_b", "100%"),
        ("100% \\ a_b", "\\"),
        ("100% \\ a_b", "a_B"),
        ("it's", "it's"),
        ("tab\tbed", "bed"),
        ("x\udc80y", "\udc80y"),
        ("<b>[bold]</b>", "[bold]"),
    ],
)
def test_odd_letters_are_found_as_people_mean_them(store: CaseStore, said: str, asked: str) -> None:
    begin(store)
    case_id = begin(store)
    store.append(case_id, 0, [{"words": [said]}])
    assert ids(store.find(asked)) == [case_id]


def test_the_owners_data_is_replaced_as_a_whole_and_is_text(store: CaseStore) -> None:
    case_id, other = begin(store), begin(store)
    assert store.personal(case_id) == {}
    store.set_personal(case_id, {"name": "A", "plate": "HL 1"})
    store.set_personal(other, {"name": "B"})
    store.set_personal(case_id, {"name": "C\udc80"})
    assert store.personal(case_id) == {"name": "C\udc80"}
    with pytest.raises(WrongUse, match="owner's data 'plate'=7: expected text"):
        store.set_personal(case_id, {"plate": 7})  # type: ignore[dict-item]
    assert store.personal(case_id) == {"name": "C\udc80"}
    assert store.erase_personal(case_id) is True
    assert store.personal(case_id) == {}
    assert store.personal(other) == {"name": "B"}


def traces(path: Path, secret: str) -> list[str]:
    return [file.name for file in path.parent.glob("cases.db*") if secret.encode() in file.read_bytes()]


def test_erased_data_is_gone_from_the_files_and_the_chain_still_holds(store: CaseStore, path: Path) -> None:
    """Many owners of all lengths, changed and erased in turn, so that rows move about within and between pages."""
    cases = [begin(store) for _ in range(60)]
    for turn in range(3):
        for number, case_id in enumerate(cases):
            store.set_personal(case_id, {"name": f"secret-{number}-{turn} " + "x" * (number * 53 % 700)})
    assert traces(path, "secret-7-2")
    assert sum(store.erase_personal(case_id) for case_id in cases[::2]) == 30
    for case_id in cases[1::2]:
        store.set_personal(case_id, {"name": "other"})
    assert store.erase_personal(cases[1]) is True
    assert traces(path, "secret-") == []
    assert all(store.verify(case_id) is None for case_id in cases)


def test_erasing_while_another_window_reads_says_so_and_is_finished_when_it_is_done(
    store: CaseStore, path: Path
) -> None:
    case_id = begin(store)
    store.set_personal(case_id, {"name": "secret"})
    store._connection.execute("PRAGMA busy_timeout = 50")
    with open_store(path) as reader:
        with reader._reading():
            reader._connection.execute("SELECT COUNT(*) FROM personal").fetchone()
            assert store.erase_personal(case_id) is False
        assert reader.personal(case_id) == {}
    store.close()
    assert traces(path, "secret") == []


@pytest.mark.parametrize(
    ("text", "most", "wanted"),
    [("slow-ac", 7, "slow-ac"), ("slow-ac", 6, "slo..."), ("a word", 5, "a..."), ("slow", 3, "slo"), ("slow", -1, "")],
)
def test_a_text_is_cut_to_its_room(text: str, most: int, wanted: str) -> None:
    assert cut(text, most) == wanted
