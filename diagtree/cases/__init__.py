"""The case store: every question, answer, reading and decision of every case, kept in one SQLite file.

`store.open_store` is the way in. The store keeps events in order and does not know what they mean: that is the walk's
business. It reads two keys of what a case is begun with (`title`, `vehicle`) and one of an event (`at`), for lists.

What it promises
- What was saved survives the death of the process at any instant: one transaction an answer, synced before it returns.
- Two windows on one case: whoever comes second is told, and neither's entries are lost or mixed.
- A case keeps the text of the knowledge it began with.
- Entries can only be added. Whoever may write the file can still change it; `verify` then names the first event that is
  not as written, unless the whole chain was made anew: that shows only against the head printed on the job record.
- The owner's data lies apart and can be erased. Statuses are a list of their own, only added to, outside the chain.
"""
