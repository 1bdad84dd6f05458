"""Hold a store in some way until a line comes in: `claim` a case, or `lock` the file as a stuck program would.

Arguments: the store's path, `claim` and a case, or `lock`.
"""

import sqlite3
import sys

from diagtree.cases.store import open_store

path, way = sys.argv[1], sys.argv[2]
if way == "claim":
    with open_store(path) as store:
        print(store.claim(sys.argv[3]), flush=True)
        sys.stdin.readline()
else:
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("BEGIN IMMEDIATE")
    print("locked", flush=True)
    sys.stdin.readline()
