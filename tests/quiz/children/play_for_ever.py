"""A process to be killed: begins a round and adds an event a transaction for ever, printing each once it is saved."""

import os
import sys

from diagtree.cases.quiz_store import open_quiz


def tell(line: str) -> None:
    os.write(1, f"{line}\n".encode())  # one write is all or nothing, also for who is killed in it


with open_quiz(sys.argv[1]) as store:
    number = store.begin("anna", "practice", "7", "2026-03-02T08:00:00+00:00", [{"type": "first", "n": 0}])
    tell(f"round {number}")
    seq = 1
    while True:
        store.append(number, seq, [{"type": "act", "n": seq, "pad": "x" * (seq * 37 % 900)}])
        tell(f"event {seq}")
        seq += 1
