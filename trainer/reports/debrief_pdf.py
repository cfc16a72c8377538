"""The debrief as PDF: the same as the page, in pages to be printed and put into a folder."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from sim.units import clock_text
from trainer.reports import force_plot, trace_plot
from trainer.reports.debrief import WAY_WORDS, WORDS, by_weight, left_words
from trainer.reports.drawing import png
from trainer.reports.force_record import ForcePoint, points
from trainer.reports.page import Heading
from trainer.reports.pdf_sheet import SMALL, Sheet
from trainer.reports.typeface import AMBER, CLEAR, DANGER, SOFT
from trainer.session.view import Curve, DebriefView, FindingView, StripView

COLOURS: Final = {"failed": DANGER, "marginal": AMBER, "skipped": SOFT, "passed": CLEAR}

DOTS: Final = 200
"""Of a drawing, to the inch."""


def debrief_pdf(
    heading: Heading, debrief: DebriefView, curves: Sequence[Curve] = (), strip: StripView | None = None
) -> bytes:
    """The whole document."""
    sheet = Sheet("Debrief", heading)
    _result(sheet, debrief)
    sheet.heading("Findings")
    for finding in by_weight(debrief.findings):
        _finding(sheet, finding)
    if not debrief.findings:
        sheet.say("There are no findings.")
    _measured(sheet, debrief)
    sheet.heading("Closing force")
    found = points(curves)
    for point in found:
        _force(sheet, point)
    if not found:
        sheet.say("No closing force was measured. What drives a leaf proves no force; only a curve on a gauge does.")
    _way(sheet, debrief)
    if strip is not None and trace_plot.has_trace(strip):
        sheet.heading("What the gate did")
        told = "Leaf angles, motor currents, guards and commands over the whole job"
        sheet.picture(png(trace_plot.trace_drawing(strip), trace_plot.SIZE_IN, DOTS), trace_plot.SIZE_IN, told)
    return bytes(sheet.output())


def _result(sheet: Sheet, debrief: DebriefView) -> None:
    sheet.heading("Result")
    sheet.say(f"{debrief.result[:1].upper()}{debrief.result[1:]}: {debrief.score:.0f} of 100", 15.0, bold=True)
    for question, answer in debrief.lines:
        sheet.labelled(question, answer)
    sheet.ln(1.5)
    for part, got, of in debrief.parts:
        sheet.bar(part, got / of if of else 0.0, f"{got:.1f} of {of:.0f}" if of else "not judged")
    if debrief.left:
        sheet.ln(1.5)
    for left in debrief.left:
        sheet.say(left_words(left))
    if debrief.practise:
        sheet.ln(2.5)
        sheet.labelled("Practise next.", debrief.practise)


def _finding(sheet: Sheet, finding: FindingView) -> None:
    sheet.keep_together(24.0)
    points_lost = f"{abs(finding.points):.1f} points lost" if finding.points else ""
    grave = "grave" if finding.grave else ""
    stamp = " · ".join(filter(None, (grave, WORDS[finding.outcome], finding.part, points_lost)))
    sheet.say(stamp, SMALL, COLOURS[finding.outcome], bold=True)
    sheet.say(finding.title, 10.5, bold=True)
    sheet.say(finding.what)
    if finding.outcome != "passed":
        sheet.labelled("Why it matters:", finding.why)
        sheet.labelled("Instead:", finding.instead)
    for line, at, text in finding.evidence:
        told = [f"line {line}" if line else "", clock_text(at), text]
        sheet.say(" · ".join(filter(None, told)), SMALL, SOFT)
    sheet.ln(2.5)


def _measured(sheet: Sheet, debrief: DebriefView) -> None:
    sheet.heading("What was measured")
    if not debrief.measured:
        sheet.say("Nothing was measured.")
        return
    rows = [(clock_text(m.at), m.what, m.shown) for m in debrief.measured]
    sheet.rows(("time", "what", "what it showed"), rows, (22, 92, 60), ("LEFT", "LEFT", "LEFT"))


def _force(sheet: Sheet, point: ForcePoint) -> None:
    sheet.keep_together(110.0)
    sheet.say(point.title, 10.5, bold=True)
    sheet.say(f"{point.rules.name}, {point.rules.applies}: {'; '.join(map(str, point.rules.limits()))}.", SMALL, SOFT)
    drawing = force_plot.force_drawing(point.curves, point.rules)
    sheet.picture(png(drawing, force_plot.SIZE_IN, DOTS), force_plot.SIZE_IN, f"Force against time: {point.title}")
    rules = point.rules
    names = (
        "reading", "peak [N]", f"above {rules.static} [s]", f"after {rules.dynamic} [N]", "gauge on", "verdict"
    )  # fmt: skip
    rows = [
        (str(n), f"{c.peak_n:.0f}", f"{c.above_150_s:.3f}", f"{c.static_n:.0f}", c.rest, f"alone: {c.verdict}")
        for n, c in enumerate(point.curves, start=1)
    ]
    if point.mean is not None:
        mean = point.mean
        told = (f"{mean.peak_n:.0f}", f"{mean.above_static_s:.3f}", f"{mean.static_n:.0f}")
        rows.append(("mean", *told, "", point.verdict.outcome))
    sheet.rows(names, rows, (18, 22, 30, 30, 34, 40), ("LEFT", "RIGHT", "RIGHT", "RIGHT", "LEFT", "LEFT"))
    because = point.verdict.because
    sheet.say(
        f"Not judged: {because}." if because else "One reading is not a verdict: the mean is judged.", SMALL, SOFT
    )


def _way(sheet: Sheet, debrief: DebriefView) -> None:
    if not debrief.way:
        return
    sheet.heading("The expert's way, and yours")
    sheet.say("Acts in order. Waiting, and letting go of what was pressed, are left out.", SMALL, SOFT)
    rows = [
        (row.expert, WAY_WORDS.get(row.kind, row.kind), row.done, "" if row.at is None else clock_text(row.at))
        for row in debrief.way
    ]
    sheet.rows(("the expert", "", "you", "time"), rows, (64, 26, 62, 22), ("LEFT", "LEFT", "LEFT", "LEFT"))
