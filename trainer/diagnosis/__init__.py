"""Diagnosis: which causes still fit what was seen, and what each measurement is worth.

A seam: the contract stands in `engine`, and nothing implements it yet. Commissioning jobs don't need it; grading
judges evidence before action by its own checks, and a session without an engine offers no hints.
"""

from trainer.diagnosis.engine import DiagnosisEngine, Measurement

__all__ = ["DiagnosisEngine", "Measurement"]
