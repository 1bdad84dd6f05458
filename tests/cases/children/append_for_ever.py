"""Add one event per transaction for ever, printing each number once it is saved; open another case now and then.

Arguments: the store's path, a case, how many events between two new cases.
"""

import sys

from diagtree.cases.store import open_store

path, case_id, every = sys.argv[1], sys.argv[2], int(sys.argv[3])
with open_store(path) as store:
    seq = len(store.events(case_id))
    while True:
        store.append(case_id, seq, [{"type": "answered", "n": seq, "note": "x" * (seq * 37 % 900)}])
        print("event", seq, flush=True)
        seq += 1
        if seq % every == 0:
            case = store.begin("tree", {"tree.yaml": f"title: {seq}\n"}, {}, "2026-03-02T08:15:00", None)
            print("case", case, flush=True)
