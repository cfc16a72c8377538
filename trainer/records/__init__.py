"""Records: what a class has done, and what each trainee should practise next.

A seam: the contract stands in `store`, and nothing implements it yet. One session keeps its own journal and its
graded result in its own folder and needs no store.
"""

from trainer.records.store import Attempt, RecordStore

__all__ = ["Attempt", "RecordStore"]
