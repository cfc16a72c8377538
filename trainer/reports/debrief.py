"""The debrief as a page: what passed and what did not, each with the journal lines that show it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.said import said
from sim.units import clock_text
from trainer.language import _
from trainer.reports.drawing import svg
from trainer.reports.force_record import points
from trainer.reports.page import Heading, drawn, page
from trainer.reports.trace_plot import SIZE_IN, TRACE, has_trace, trace_drawing
from trainer.session.lookback import OUTCOME_WORDS, LeftView
from trainer.session.view import Curve, DebriefView, FindingView, StripView
from trainer.session.worth import MADE_HEADS, MEANING, MENDED_HEADS

_ORDER: Final = {"failed": 0, "marginal": 1, "skipped": 2, "passed": 3}
"""What needs attention comes first."""

COMPETENCE_WORDS: Final = {
    "shown": said("shown"),
    "not shown": said("not shown"),
    "not asked": said("not asked"),
}

COMPUTED_STAYS: Final = said(
    "The mark above it was computed and stays as it was given, with its parts and findings. "
    "Competences follow the instructor."
)

WAY_WORDS: Final = {
    "both": said("the same"),
    "left out": said("left out"),
    "at another time": said("at another time"),
    "besides": said("besides"),
}
"""How an act of the expert's way stands to what was done."""


def debrief_html(
    heading: Heading, debrief: DebriefView, curves: Sequence[Curve] = (), strip: StripView | None = None
) -> str:
    """The page as one file that needs nothing beside it."""
    trace = ""
    if strip is not None and has_trace(strip):
        trace = drawn(svg("trace", _(TRACE), trace_drawing(strip), SIZE_IN, inline=True))
    return page(
        "debrief.html",
        _("Debrief"),
        heading,
        debrief=debrief,
        findings=by_weight(debrief.findings),
        counts=_counts(debrief.findings),
        words=OUTCOME_WORDS,
        worth_means=MEANING,
        made_heads=MADE_HEADS,
        mended_heads=MENDED_HEADS,
        way_words=WAY_WORDS,
        competence_words=COMPETENCE_WORDS,
        computed_stays=COMPUTED_STAYS,
        rulings=[] if debrief.overruled is None else debrief.overruled.rulings,
        left=[left_words(one) for one in debrief.left],
        force_points=points(curves),
        trace=trace,
    )


def left_words(left: LeftView) -> str:
    """A past that was left, in a sentence."""
    return said(
        "Gone on from {since}: what came after, up to {until}, was left (one act)."
        if left.acts == 1
        else "Gone on from {since}: what came after, up to {until}, was left ({acts} acts).",
        since=clock_text(left.since),
        until=clock_text(left.until),
        acts=left.acts,
    )


def by_weight(findings: Sequence[FindingView]) -> list[FindingView]:
    """Findings in the order of attention."""
    return sorted(findings, key=_place)


def _place(finding: FindingView) -> tuple[bool, int]:
    """Grave first, then what failed; among equals the order of the grading stands."""
    return not finding.grave, _ORDER[finding.outcome]


def _counts(findings: Sequence[FindingView]) -> list[tuple[str, int]]:
    """How many findings of each outcome."""
    return [(outcome, sum(f.outcome == outcome for f in findings)) for outcome in _ORDER]
