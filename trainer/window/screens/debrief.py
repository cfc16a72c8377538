"""The debrief: result, parts, what to practise; every finding on the timeline and with the lines that show it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

import pygame

from sim.units import Us
from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import RadioRow
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Note, Paragraph
from trainer.window.kit.pen import block
from trainer.window.kit.split import Split
from trainer.window.kit.style import (
    GO,
    GO_WASH,
    INK,
    RULE,
    SHEET,
    SMALL,
    SOFT,
    STOP,
    STOP_WASH,
    WARN,
    WARN_WASH,
    Style,
)
from trainer.window.kit.widget import Size, Value, Widget
from trainer.window.screens.measured import Ask, Measurements, share_of
from trainer.window.screens.recap import expert_way, forces, watch_button
from trainer.window.screens.timeline import Pin, Timeline
from trainer.window.words import first_upper, moment

if TYPE_CHECKING:
    from trainer.session.lookback import LeftView, OverruledView
    from trainer.session.view import DebriefView, FindingView, View
    from trainer.window.kit.pen import Pen

LOOKS = {
    "passed": ("✓", GO, GO_WASH),
    "failed": ("⊘", STOP, STOP_WASH),
    "marginal": ("⚠", WARN, WARN_WASH),
    "skipped": ("–", SOFT, SHEET),
}
MARGIN = 54.0
SIDE = 28.0
"""Room left and right [logical px]."""
BESIDE = 900.0
"""From this width on [logical px] findings stand beside the result."""
ORDER = {"failed": 0, "marginal": 1, "skipped": 2, "passed": 3}


class PartBar(Widget):
    """One part of the score as a bar with its numbers."""

    role = "part"

    def __init__(self, part: str, got: float, of: float) -> None:
        super().__init__(part)
        self.got = got
        self.of = of

    @property
    def value(self) -> Value:
        """Points got of points there are."""
        return f"{self.got:g} / {self.of:g}"

    def wish(self, style: Style, width: int) -> Size:
        """A line and a bar."""
        return width, style.px(38)

    def draw(self, pen: Pen) -> None:
        """Name and numbers above the bar."""
        px = pen.style.px
        line = pygame.Rect(self.rect.left, self.rect.top, self.rect.width, px(22))
        pen.text_in(str(self.value), line, 13, SOFT, anchor="right")
        line.width -= pen.style.width(str(self.value), 13, Face.REGULAR) + px(10)
        pen.text_in(first_upper(_(self.label)), line, 13)
        bar = pygame.Rect(self.rect.left, self.rect.top + px(24), self.rect.width, px(8))
        full = self.got >= self.of - 1e-9
        pen.share(bar, share_of(self.got, self.of), GO if full else INK)


class Verdict(Widget):
    """One of the three questions and its answer."""

    role = "verdict"

    def __init__(self, question: str, answer: str) -> None:
        super().__init__(question)
        self.answer = answer

    @property
    def value(self) -> Value:
        """The answer."""
        return self.answer

    def wish(self, style: Style, width: int) -> Size:
        """A line, or as many as the answer needs beside its question."""
        room = width - self._asked(style, width)
        return width, max(style.px(30), block(style, _(self.answer), 15, Face.BOLD, room)[1] + style.px(8))

    def _asked(self, style: Style, width: int) -> int:
        """Room for the question: half of the line at most [px]."""
        return min(style.width(_(self.label), 15, Face.REGULAR) + style.px(14), width // 2)

    def draw(self, pen: Pen) -> None:
        """Question left, answer right."""
        asked = pygame.Rect(self.rect)
        asked.width = self._asked(pen.style, self.rect.width)
        answer = pygame.Rect(asked.right, asked.top, self.rect.right - asked.right, asked.height)
        pen.text_in(_(self.label), asked, 15)
        pen.text_in(_(self.answer), answer, 15, INK, Face.BOLD, "right")
        pen.line((self.rect.left, self.rect.bottom - 1), (self.rect.right, self.rect.bottom - 1), RULE)


class Finding(Column):
    """One finding: what, why it matters, what instead, and the evidence, each line a way back to its moment."""

    def __init__(self, number: int, finding: FindingView, on_watch: Callable[[Us], None]) -> None:
        """`number` is that of its pin on the timeline."""
        sign, colour, wash = LOOKS[finding.outcome]
        self.finding = finding
        points = f"−{abs(finding.points):g}" if finding.points else ""  # a finding tells what it cost
        grave = _("grave") + " · " if finding.grave else ""
        head = Row(
            Label(f"{sign}  {number}", width=MARGIN, colour=colour, face=Face.BOLD, size=16),
            Paragraph(_(finding.title), face=Face.BOLD, grow=1.0),
            Label(f"{grave}{_(finding.outcome)}", colour=colour, size=13, face=Face.BOLD),
            Label(points, width=44, anchor="right", size=13, colour=colour if finding.points else SOFT),
            gap=8,
        )
        rows: list[Widget] = [head, _said("", _(finding.what))]
        if finding.why and finding.outcome != "passed":
            rows.append(_said(_("Why"), _(finding.why)))
        if finding.instead and finding.outcome != "passed":
            rows.append(_said(_("Instead"), _(finding.instead)))
        rows += [_evidence(line, at, text, on_watch) for line, at, text in finding.evidence]
        super().__init__(*rows, gap=6, pad=(16, 12), fill=wash, role="finding", label=finding.title)
        self.colour = colour

    def draw(self, pen: Pen) -> None:
        """The wash with a thick edge of its outcome."""
        super().draw(pen)
        pen.fill(pygame.Rect(self.rect.left, self.rect.top, pen.style.px(5), self.rect.height), self.colour)


def _said(head: str, text: str) -> Row:
    return Row(Label(head, width=MARGIN, size=SMALL, colour=SOFT), Paragraph(text, size=13, grow=1.0), gap=8)


def _evidence(line: int, at: Us, text: str, on_watch: Callable[[Us], None]) -> Row:
    words = _("journal line {line} · {when} · {text}").format(line=line, when=moment(at), text=_(text))
    return Row(
        Label("", width=MARGIN),
        Label(words, size=SMALL, colour=SOFT, grow=1.0, help=words),
        watch_button(at, on_watch),
        gap=8,
    )


class DebriefScreen(Column):
    """What passed, what did not, when it was, and what an expert would have done."""

    def __init__(
        self,
        view: View,
        result: DebriefView,
        on_watch: Callable[[Us], None],
        *,
        on_yard: Callable[[], None],
        on_report: Callable[[], None],
        on_desk: Callable[[], None],
        ask: Ask = lambda: None,
    ) -> None:
        """`on_watch` shows a moment again, `on_report` writes the report, `ask` tells what each step was worth."""
        findings = sorted(result.findings, key=lambda f: (not f.grave, ORDER[f.outcome]))
        self.measured = Measurements(result.measured, result.worth, ask, on_watch)
        self.pages = {
            _("Findings"): _findings(findings, on_watch),
            _("Measurements"): self.measured,
            _("Force"): forces(view.curves),
            _("The expert's way"): expert_way(result.way, on_watch),
        }
        chosen = _("Findings")
        self.page = RadioRow(
            _("beside the result"), list(self.pages), chosen, self._turn, help=_("What is shown here")
        )
        open_deg = max((leaf.open_stop_deg for leaf in view.leaves), default=90.0) * 1.04
        self.timeline = Timeline(view.strip, open_deg, _pins(findings), on_watch)
        self.left = _left(result)
        right = Column(self.page, *self.pages.values(), gap=10, role="region", label=_("findings"))
        self.middle = Split(self.left, right, least=BESIDE, first_width=396, gap=26)
        head = Row(
            Column(
                Label(_("Debrief: {job}").format(job=_(view.job)), face=Face.BOLD, size=18),
                Paragraph(f"{_(view.place)} · {_(view.mode)}", colour=SOFT, size=13),
                gap=2,
                grow=1.0,
            ),
            Button(_("Write the report…"), on_report, help=_("Into a folder of yours")),
            Button(_("See the yard"), on_yard, help=_("The yard as it was left")),
            Button(_("To the front desk"), on_desk, look="main", help=_("To the list of jobs")),
            gap=12,
            pad=(SIDE, 12),
            fill=SHEET,
        )
        self.body = Column(self.timeline, self.middle, gap=12, pad=(SIDE, 12), grow=1.0)
        super().__init__(head, self.body, gap=0, role="screen", label=_("debrief"))
        self._results = list(self.left.children)
        self._turn(chosen)

    def pass_time(self, wall_s: float) -> None:
        """For the page that may wait for something."""
        self.measured.pass_time(wall_s)

    def place(self, style: Style, rect: pygame.Rect) -> None:
        """Where all is one column the timeline scrolls with it: the height is needed."""
        narrow = rect.width / style.scale - 2 * SIDE < BESIDE
        if narrow != (self.timeline.parent is self.left):
            self.body.fill_with([self.middle] if narrow else [self.timeline, self.middle])
            self.left.fill_with([self.timeline, *self._results] if narrow else self._results)
        super().place(style, rect)

    def _turn(self, chosen: str) -> None:
        """One of the pages beside the result."""
        for name, page in self.pages.items():
            page.visible = name == chosen


def _pins(findings: Sequence[FindingView]) -> list[Pin]:
    """Each finding at the moment of its first evidence."""
    return [
        Pin(number, finding.evidence[0][1], finding.outcome, finding.title)
        for number, finding in enumerate(findings, start=1)
        if finding.evidence
    ]


def _findings(findings: Sequence[FindingView], on_watch: Callable[[Us], None]) -> Column:
    listed: list[Widget] = [Finding(number, finding, on_watch) for number, finding in enumerate(findings, start=1)]
    return Column(*(listed or [Paragraph(_("There are no findings."))]), gap=10, label=_("findings"))


def _left(result: DebriefView) -> Column:
    """Result, parts, what to practise, where the report is."""
    left: list[Widget] = [Heading(_("Left behind")), *map(_left_behind, result.left)]
    report = [Heading(_("Report")), Paragraph(result.report_path, size=12, face=Face.MONO, colour=SOFT)]
    competences = [Heading(_("Competences")), *(Verdict(one.name, one.state) for one in result.competences)]
    practise = [Heading(_("Practise next")), Note(_(result.practise), GO, GO_WASH, sign="→")]
    return Column(
        Heading(_("Result")),
        Column(
            Paragraph(first_upper(_(result.result)), face=Face.BOLD, size=20),
            Row(
                Label(f"{result.score:g}", size=40, face=Face.BOLD),
                Label(_("of 100"), colour=SOFT),
                Spacer(grow=1.0),
                gap=8,
            ),
            *(Verdict(question, answer) for question, answer in result.lines),
            gap=8, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("result"),
        ),
        *(_overruled(result.overruled) if result.overruled is not None else ()),
        *(practise if result.practise else ()),
        Heading(_("By part")),
        *(PartBar(*part) for part in result.parts),
        *(competences if result.competences else ()),
        *(left if result.left else ()),
        *(report if result.report_path else ()),
        gap=8,
    )  # fmt: skip


def _overruled(overruled: OverruledView) -> list[Widget]:
    """The mark after an instructor's rulings, under the computed one, with each ruling, by whom and why."""
    told: list[Widget] = []
    for one in overruled.rulings:
        told.append(Paragraph(f"{_(one.title)}: {_(one.told)}", size=13, face=Face.BOLD))
        told.append(Paragraph(f"{one.by}, {one.when[:10]}: {one.reason}", size=13))
    return [
        Heading(_("Overruled by an instructor")),
        Column(
            Paragraph(first_upper(_(overruled.result)), face=Face.BOLD, size=16),
            Row(
                Label(f"{overruled.score:g}", size=28, face=Face.BOLD),
                Label(_("of 100"), colour=SOFT),
                Spacer(grow=1.0),
                gap=8,
            ),
            Paragraph(_("The mark above was computed and stays as it was given."), size=SMALL, colour=SOFT),
            *told,
            gap=6, pad=(18, 14), fill=SHEET, edge=RULE, role="region", label=_("overruled by an instructor"),
        ),
    ]  # fmt: skip


def _left_behind(left: LeftView) -> Paragraph:
    words = _("You went on from {since}. What came after, up to {until}, was left: {acts} acts.")
    told = words.format(since=moment(left.since), until=moment(left.until), acts=left.acts)
    return Paragraph(told, size=13)
