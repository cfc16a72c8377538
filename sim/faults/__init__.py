"""Faults as data: each changes one physical fact and returns its undo.

Nothing is built here yet. What is wrong on the first sites (a swapped pair of leads, a guard that is absent) is part
of how a job finds the gate, and uses the cabinet's own edits with their undo. To come: `apply` (edit netlist,
mechanics, bodies or a setting by name, return the undo), `plan` (when a fault comes and goes) and the catalogue.
"""
