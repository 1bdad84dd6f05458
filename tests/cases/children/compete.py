"""Add events to a case that others add to as well, reading it anew whenever somebody was quicker.

Arguments: the store's path, a case or `own`, this writer's name, how many events. Begins at a line on standard input.
Prints the case, then the number of each event saved.
"""

import sys

from diagtree.cases.store import open_store
from diagtree.errors import CaseChangedElsewhere

path, case_id, name, wanted = sys.argv[1], sys.argv[2], sys.argv[3], int(sys.argv[4])
sys.stdin.readline()
with open_store(path) as store:
    if case_id == "own":
        case_id = store.begin("tree", {"tree.yaml": f"title: {name}\n"}, {}, "2026-03-02T08:15:00", name)
    print(case_id, flush=True)
    won = 0
    seq = 0
    while won < wanted:
        try:
            store.append(case_id, seq, [{"by": name, "n": won}])
        except CaseChangedElsewhere:
            seq = len(store.events(case_id))
            continue
        print(seq, flush=True)
        seq += 1
        won += 1
