"""Writers to be killed. For each line `case<TAB>path` on standard input a process is forked off, which

prints `born` and its number, then adds one event per transaction for ever, printing each number once it is saved, and
opens another case now and then. When it is dead, its exit status is printed. Forked, because starting Python anew takes
far longer than all the rest.
"""

import os
import sys

from diagtree.cases.store import CaseId, open_store

CASE_EVERY = 25


def tell(line: str) -> None:
    # One write to the pipe is all or nothing, also for who is killed in it; `print` may take several.
    os.write(1, f"{line}\n".encode())


def write(path: str, case_id: CaseId) -> None:
    tell(f"born {os.getpid()}")
    with open_store(path) as store:
        if not case_id:
            case_id = store.begin("tree", {}, {}, "2026-03-02T08:15:00", None)
        seq = len(store.events(case_id))
        while True:
            store.append(case_id, seq, [{"type": "answered", "n": seq, "note": "x" * (seq * 37 % 900)}])
            tell(f"event {seq}")
            seq += 1
            if seq % CASE_EVERY == 0:
                case = store.begin("tree", {"tree.yaml": f"title: {seq}\n"}, {}, "2026-03-02T08:15:00", None)
                tell(f"case {case}")


for line in sys.stdin:
    case, path = line.rstrip("\n").split("\t")
    writer = os.fork()
    if writer == 0:
        try:
            write(path, CaseId(case))
        finally:
            os._exit(1)  # only if something went wrong: the loop ends by a kill
    _, status = os.waitpid(writer, 0)
    tell(f"dead {os.waitstatus_to_exitcode(status)}")
