"""The training yard round the simulator: jobs, sessions, grading, window and command line."""

from typing import Final

from sim.said import said

CAUTION: Final = said(
    "A training model: it certifies nothing. Real gates crush and kill: isolate and prove dead; follow the standard "
    "in force, local codes and licensed practice."
)
"""Stands in the window's title block, on the first page of every report and in the command line's help."""
