"""Add events until the store complains; print each number saved, then the complaint, then what can still be read.

Arguments: the store's path, a limit on the size of a file in bytes (0: none), a case.
"""

import resource
import sys

from diagtree.cases.store import open_store
from diagtree.errors import StoreError

path, limit, case_id = sys.argv[1], int(sys.argv[2]), sys.argv[3]
if limit:
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
with open_store(path) as store:
    seq = len(store.events(case_id))
    try:
        while seq < 5000:
            store.append(case_id, seq, [{"type": "answered", "n": seq, "note": "x" * 2000}])
            print("event", seq, flush=True)
            seq += 1
    except StoreError as error:
        print("told", error, flush=True)
    print("read", len(store.events(case_id)), store.verify(case_id), flush=True)
with open_store(path, read_only=True) as store:
    print("read", len(store.events(case_id)), store.verify(case_id), flush=True)
