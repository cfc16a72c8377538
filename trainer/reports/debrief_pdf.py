"""The debrief as PDF: the same as the page, in pages to be printed and put into a folder."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.said import begun, joined, said
from sim.units import clock_text
from trainer.language import _
from trainer.reports import force_plot, trace_plot
from trainer.reports.debrief import (
    COMPETENCE_WORDS,
    WAY_WORDS,
    by_weight,
    left_words,
)
from trainer.reports.drawing import png
from trainer.reports.force_record import ForcePoint, points
from trainer.reports.page import Heading, limits_of
from trainer.reports.pdf_sheet import LEAST_MM, SMALL, Sheet, high_mm
from trainer.reports.typeface import AMBER, CLEAR, DANGER, SOFT
from trainer.session.lookback import OUTCOME_WORDS
from trainer.session.view import Curve, DebriefView, FindingView, StripView
from trainer.session.worth import MADE_HEADS, MEANING, MENDED_HEADS, WorthView

COLOURS: Final = {"failed": DANGER, "marginal": AMBER, "skipped": SOFT, "passed": CLEAR}

COMPETENCE_COLOURS: Final = {"shown": CLEAR, "not shown": DANGER, "not asked": SOFT}

DOTS: Final = 200
"""Of a drawing, to the inch."""

FORCE_MM: Final = 110.0
"""What a place of the force plan takes of a page: its name, its curves and the first of its table."""

ONE_IS_NONE: Final = said("One reading is not a verdict: the mean is judged.")


def debrief_pdf(
    heading: Heading, debrief: DebriefView, curves: Sequence[Curve] = (), strip: StripView | None = None
) -> bytes:
    """The whole document."""
    sheet = Sheet(_("Debrief"), heading)
    _result(sheet, debrief)
    sheet.heading(_("Findings"))
    for finding in by_weight(debrief.findings):
        _finding(sheet, finding)
    if not debrief.findings:
        sheet.say(_("There are no findings."))
    _rulings(sheet, debrief)
    _competences(sheet, debrief)
    _measured(sheet, debrief)
    if debrief.worth is not None:
        _worth(sheet, debrief.worth)
    found = points(curves)
    sheet.heading(_("Closing force"), FORCE_MM if found else LEAST_MM)
    for point in found:
        _force(sheet, point)
    if not found:
        sheet.say(
            _("No closing force was measured. What drives a leaf proves no force; only a curve on a gauge does.")
        )
    _way(sheet, debrief)
    if strip is not None and trace_plot.has_trace(strip):
        sheet.heading(_("What the gate did"), high_mm(trace_plot.SIZE_IN))
        drawing = png(trace_plot.trace_drawing(strip), trace_plot.SIZE_IN, DOTS)
        sheet.picture(drawing, trace_plot.SIZE_IN, _(trace_plot.TRACE))
    return bytes(sheet.output())


def _result(sheet: Sheet, debrief: DebriefView) -> None:
    sheet.heading(_("Result"))
    told = said("{result}: {score:.0f} of 100", result=begun(debrief.result), score=debrief.score)
    sheet.say(_(told), 15.0, bold=True)
    if debrief.overruled is not None:
        ruled = said("Overruled by an instructor: {result}", result=debrief.overruled.result)
        score = said("{score:.0f} of 100", score=debrief.overruled.score)
        sheet.say(_(joined((ruled, score), ", ")), 12.0, bold=True)
        sheet.say(
            _("The mark above it was computed and stays as it was given. All that follows is as computed."),
            SMALL,
            SOFT,
        )
    for question, answer in debrief.lines:
        sheet.labelled(_(question), _(answer))
    sheet.ln(1.5)
    for part, got, of in debrief.parts:
        told = said("{got:.1f} of {of:.0f}", got=got, of=of) if of else said("not judged")
        sheet.bar(_(part), got / of if of else 0.0, _(told))
    if debrief.left:
        sheet.ln(1.5)
    for left in debrief.left:
        sheet.say(_(left_words(left)))
    if debrief.practise:
        sheet.ln(2.5)
        sheet.labelled(_("Practise next."), _(debrief.practise))


def _finding(sheet: Sheet, finding: FindingView) -> None:
    sheet.keep_together(24.0)
    points_lost = said("{points:.1f} points lost", points=abs(finding.points)) if finding.points else ""
    grave = said("grave") if finding.grave else ""
    stamp = joined(filter(None, (grave, OUTCOME_WORDS[finding.outcome], finding.part, points_lost)), " · ")
    sheet.say(_(stamp), SMALL, COLOURS[finding.outcome], bold=True)
    sheet.say(_(finding.title), 10.5, bold=True)
    sheet.say(_(finding.what))
    if finding.outcome != "passed":
        sheet.labelled(_("Why it matters:"), _(finding.why))
        sheet.labelled(_("Instead:"), _(finding.instead))
    for line, at, text in finding.evidence:
        told = [said("line {line}", line=line) if line else "", clock_text(at), text]
        sheet.say(_(joined(filter(None, told), " · ")), SMALL, SOFT)
    sheet.ln(2.5)


def _rulings(sheet: Sheet, debrief: DebriefView) -> None:
    if debrief.overruled is None:
        return
    sheet.heading(_("Overruled by an instructor"))
    for one in debrief.overruled.rulings:
        sheet.keep_together(18.0)
        sheet.say(_(one.told), SMALL, COLOURS[one.now], bold=True)
        sheet.say(_(one.title), 10.5, bold=True)
        sheet.labelled(f"{one.by}, {one.when[:10]}:", one.reason)
        sheet.ln(1.5)


def _competences(sheet: Sheet, debrief: DebriefView) -> None:
    if not debrief.competences:
        return
    sheet.heading(_("Competences"))
    for one in debrief.competences:
        sheet.keep_together(18.0)
        sheet.say(_(COMPETENCE_WORDS[one.state]), SMALL, COMPETENCE_COLOURS[one.state], bold=True)
        sheet.say(_(one.name), 10.5, bold=True)
        sheet.say(_(one.about), SMALL, SOFT)
        sheet.say(_(one.why))
        sheet.ln(1.5)


def _measured(sheet: Sheet, debrief: DebriefView) -> None:
    sheet.heading(_("What was measured"))
    if not debrief.measured:
        sheet.say(_("Nothing was measured."))
        return
    rows = [(clock_text(m.at), _(m.what), _(m.shown)) for m in debrief.measured]
    sheet.rows((_("time"), _("what"), _("what it showed")), rows, (22, 92, 60), ("LEFT", "LEFT", "LEFT"))


def _worth(sheet: Sheet, worth: WorthView) -> None:
    sheet.heading(_("What it was worth"))
    sheet.say(_(MEANING), SMALL, SOFT)
    if worth.made:
        rows = [tuple(map(_, one.cells)) for one in worth.made]
        heads, widths = tuple(map(_, MADE_HEADS)), (18, 52, 20, 16, 20, 48)
        sheet.rows(heads, rows, widths, ("LEFT", "LEFT", "RIGHT", "RIGHT", "RIGHT", "LEFT"))
    if worth.repaired:
        mended = [tuple(map(_, one.cells)) for one in worth.repaired]
        sheet.rows(tuple(map(_, MENDED_HEADS)), mended, (18, 62, 70, 24), ("LEFT", "LEFT", "LEFT", "RIGHT"))


def _force(sheet: Sheet, point: ForcePoint) -> None:
    sheet.keep_together(FORCE_MM)
    sheet.say(_(point.title), 10.5, bold=True)
    sheet.say(_(limits_of(point.rules)), SMALL, SOFT)
    drawing = force_plot.force_drawing(point.curves, point.rules)
    sheet.picture(png(drawing, force_plot.SIZE_IN, DOTS), force_plot.SIZE_IN, _(point.drawn_as))
    rules = point.rules
    names = (
        _("reading"), _("peak [N]"),
        _(said("above {limit} [s]", limit=str(rules.static))), _(said("after {limit} [N]", limit=str(rules.dynamic))),
        _("gauge on"), _("verdict"),
    )  # fmt: skip
    rows = [
        (
            str(n),
            f"{c.peak_n:.0f}",
            f"{c.above_150_s:.3f}",
            f"{c.static_n:.0f}",
            _(c.rest),
            _(said("alone: {verdict}", verdict=c.verdict)),
        )
        for n, c in enumerate(point.curves, start=1)
    ]
    if point.mean is not None:
        mean = point.mean
        told = (f"{mean.peak_n:.0f}", f"{mean.above_static_s:.3f}", f"{mean.static_n:.0f}")
        rows.append((_("mean"), *told, "", _(point.verdict.outcome)))
    sheet.rows(names, rows, (18, 22, 30, 30, 34, 40), ("LEFT", "RIGHT", "RIGHT", "RIGHT", "LEFT", "LEFT"))
    because = point.verdict.because
    said_of_it = said("Not judged: {because}.", because=because) if because else ONE_IS_NONE
    sheet.say(_(said_of_it), SMALL, SOFT)


def _way(sheet: Sheet, debrief: DebriefView) -> None:
    if not debrief.way:
        return
    sheet.heading(_("The expert's way, and yours"))
    sheet.say(_("Acts in order. Waiting, and letting go of what was pressed, are left out."), SMALL, SOFT)
    rows = [
        (
            _(row.expert),
            _(WAY_WORDS.get(row.kind, row.kind)),
            _(row.done),
            "" if row.at is None else clock_text(row.at),
        )
        for row in debrief.way
    ]
    sheet.rows((_("the expert"), "", _("you"), _("time")), rows, (64, 26, 62, 22), ("LEFT", "LEFT", "LEFT", "LEFT"))
