"""Diagnosis: which causes still fit what was seen, and what each measurement is worth.

`table` holds what each cause would let each measurement read, `classes` which readings can be told apart, `priors`
how usual each cause is, `costs` what a measurement takes, `policy` the next best measurement. `site_table` makes the
table of a site by simulation and `keeping` keeps it; `observing` reads a session's history, `belief` follows it.
`engine` is the contract that a session and grading know, `reckoner` what fulfils it, `hints` what it says.
"""

from trainer.diagnosis.engine import DiagnosisEngine, Measurement

__all__ = ["DiagnosisEngine", "Measurement"]
