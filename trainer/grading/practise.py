"""The one thing to practise next: what weighed most, said as what to do instead."""

from __future__ import annotations

from collections.abc import Sequence

from sim.said import amid, said
from trainer.grading.finding import Finding

NOTHING = said("Nothing stands out. Draw the job anew: what is hidden stands elsewhere then.")


def practise_next(findings: Sequence[Finding]) -> str:
    """One sentence or two. A grave act goes before everything; then what cost most."""
    open_ones = [f for f in findings if f.outcome in ("failed", "marginal") and f.instead]
    if not open_ones:
        return NOTHING
    worst = max(open_ones, key=lambda f: (f.grave, f.points))
    return said("{title}: {instead}", title=worst.title, instead=amid(worst.instead))
