"""Grading: findings with reasons and evidence, computed from the history of a session and from nothing else.

`grade` for a finished job, `acceptance_states` and `guide_steps` at any moment, `regrade` for stored features.
"""

from trainer.grading.competences import check_titles, read_competences, standings
from trainer.grading.finding import Evidence, Finding
from trainer.grading.grade import Grade, grade, regrade
from trainer.grading.guide import acceptance_states, check_names, guide_steps, step_names
from trainer.grading.judge import Grader
from trainer.grading.overruling import Ruling, overruled, ruled_features
from trainer.grading.rulings import add_ruling, read_rulings
from trainer.grading.weights import GRADE_MODEL, WEIGHTS, Weights

__all__ = [
    "GRADE_MODEL",
    "WEIGHTS",
    "Evidence",
    "Finding",
    "Grade",
    "Grader",
    "Ruling",
    "Weights",
    "acceptance_states",
    "add_ruling",
    "check_names",
    "check_titles",
    "grade",
    "guide_steps",
    "overruled",
    "read_competences",
    "read_rulings",
    "regrade",
    "ruled_features",
    "standings",
    "step_names",
]
