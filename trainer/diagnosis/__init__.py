"""What a reading tells: candidates, the best next measurement, hints that give nothing away, solvability.

Nothing is built here yet; it needs the fault catalogue of `sim.faults`. Grading does without it so far.
"""
