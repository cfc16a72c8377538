"""Diagnosis: which causes still fit what was seen, and what each measurement is worth.

`table` holds what each cause would let each measurement read, `classes` which readings can be told apart, `priors`
how usual each cause is, `policy` the next best measurement. The contract that a session and grading know is `engine`.
"""

from trainer.diagnosis.engine import DiagnosisEngine, Measurement

__all__ = ["DiagnosisEngine", "Measurement"]
