"""Records: what each trainee has done, how it went, and what to practise next.

Read from the folders that attempts are kept in, one to each, and computed anew every time: nothing here is kept
besides, so that other weights, another scheme of spacing or an overruled finding count from the first attempt on.
"""

from trainer.records.attempts import Attempt, graded_attempts
from trainer.records.coach import Coach
from trainer.records.competences import SoFar, shown_so_far
from trainer.records.kept import Kept, KeptFinding, Mark, read_kept
from trainer.records.learning import FamilyRecord, LearningRecord, learning_record, trainees
from trainer.records.next_job import Choice, Next, next_job

__all__ = [
    "Attempt",
    "Choice",
    "Coach",
    "FamilyRecord",
    "Kept",
    "KeptFinding",
    "LearningRecord",
    "Mark",
    "Next",
    "SoFar",
    "graded_attempts",
    "learning_record",
    "next_job",
    "read_kept",
    "shown_so_far",
    "trainees",
]
