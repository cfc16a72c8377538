"""Drills: an instructor's script beside a person, or a solution, at work in one session; and its graded result."""

from trainer.drills.instructor import Instructor
from trainer.drills.run import DrillResult, begin, finish, look_back, play, resume

__all__ = ["DrillResult", "Instructor", "begin", "finish", "look_back", "play", "resume"]
