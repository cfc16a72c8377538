"""The debrief: result, the three questions, parts, and every finding with the journal lines that show it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from sim.units import Us
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.glyphs import Face
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.split import Split
from trainer.window.kit.style import (
    FIELD,
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
from trainer.window.words import _, first_upper, moment

if TYPE_CHECKING:
    from trainer.session.view import DebriefView, FindingView, View
    from trainer.window.kit.pen import Pen

LOOKS = {
    "passed": ("✓", GO, GO_WASH),
    "failed": ("⊘", STOP, STOP_WASH),
    "marginal": ("⚠", WARN, WARN_WASH),
    "skipped": ("–", SOFT, SHEET),
}
MARGIN = 54.0
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
        pen.text_in(first_upper(_(self.label)), line, 13)
        pen.text_in(str(self.value), line, 13, SOFT, anchor="right")
        bar = pygame.Rect(self.rect.left, self.rect.top + px(24), self.rect.width, px(8))
        pen.box(bar, None, FIELD, 0)
        if self.of > 0 and self.got > 0:
            full = self.got >= self.of - 1e-9
            share = pygame.Rect(bar.left, bar.top, round(bar.width * min(self.got / self.of, 1.0)), bar.height)
            pen.fill(share, GO if full else INK)


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
        """A line."""
        return width, style.px(30)

    def draw(self, pen: Pen) -> None:
        """Question left, answer right, dotted between."""
        pen.text_in(_(self.label), self.rect, 15)
        pen.text_in(_(self.answer), self.rect, 15, INK, Face.BOLD, "right")
        pen.line((self.rect.left, self.rect.bottom - 1), (self.rect.right, self.rect.bottom - 1), RULE)


class Finding(Column):
    """One finding: what, why it matters, what instead, and the evidence, each line a way back to its moment."""

    def __init__(self, finding: FindingView, on_moment: Callable[[Us], None]) -> None:
        sign, colour, wash = LOOKS[finding.outcome]
        self.finding = finding
        points = f"−{abs(finding.points):g}" if finding.points else ""  # a finding tells what it cost
        grave = _("grave") + " · " if finding.grave else ""
        head = Row(
            Label(sign, width=MARGIN, colour=colour, face=Face.BOLD, size=16),
            Paragraph(finding.title, face=Face.BOLD, grow=1.0),
            Label(f"{grave}{_(finding.outcome)}", colour=colour, size=13, face=Face.BOLD),
            Label(points, width=44, anchor="right", size=13, colour=colour if finding.points else SOFT),
            gap=8,
        )
        rows: list[Widget] = [head, _said("", finding.what)]
        if finding.why:
            rows.append(_said(_("Why"), finding.why))
        if finding.instead and finding.outcome != "passed":
            rows.append(_said(_("Instead"), finding.instead))
        rows += [_evidence(line, at, text, on_moment) for line, at, text in finding.evidence]
        super().__init__(*rows, gap=6, pad=(16, 12), fill=wash, role="finding", label=finding.title)
        self.colour = colour

    def draw(self, pen: Pen) -> None:
        """The wash with a thick edge of its outcome."""
        super().draw(pen)
        pen.fill(pygame.Rect(self.rect.left, self.rect.top, pen.style.px(5), self.rect.height), self.colour)


def _said(head: str, text: str) -> Row:
    return Row(Label(head, width=MARGIN, size=SMALL, colour=SOFT), Paragraph(text, size=13, grow=1.0), gap=8)


def _evidence(line: int, at: Us, text: str, on_moment: Callable[[Us], None]) -> Row:
    words = _("journal line {line} · {when} · {text}").format(line=line, when=moment(at), text=text)
    return Row(
        Label("", width=MARGIN),
        Label(words, size=SMALL, colour=SOFT, grow=1.0, help=words),
        Button(_("Look"), lambda: on_moment(at), look="quiet", size=12, help=_("Shows the yard at that moment")),
        gap=8,
    )


class DebriefScreen(Column):
    """What passed, what did not, and where the journal shows it."""

    def __init__(
        self, view: View, result: DebriefView, on_moment: Callable[[Us], None], on_desk: Callable[[], None]
    ) -> None:
        findings = sorted(result.findings, key=lambda f: (not f.grave, ORDER[f.outcome]))
        listed = [Finding(finding, on_moment) for finding in findings]
        report = [Heading(_("Report")), Paragraph(result.report_path, size=12, face=Face.MONO, colour=SOFT)]
        if not result.report_path:
            report.clear()
        left = Column(
            Heading(_("Result")),
            Column(
                Paragraph(first_upper(result.result), face=Face.BOLD, size=20),
                Row(
                    Label(f"{result.score:g}", size=40, face=Face.BOLD),
                    Label(_("of 100"), colour=SOFT),
                    Spacer(grow=1.0),
                    gap=8,
                ),
                *(Verdict(question, answer) for question, answer in result.lines),
                gap=8, pad=(18, 16), fill=SHEET, edge=INK, line=1.5, role="region", label=_("result"),
            ),
            Heading(_("By part")),
            *(PartBar(*part) for part in result.parts),
            *report,
            gap=8,
        )  # fmt: skip
        right = Column(Heading(_("Findings")), *listed, gap=10, role="region", label=_("findings"))
        middle = Split(left, right, least=900, first_width=396, gap=26)
        head = Row(
            Column(
                Label(_("Debrief: {job}").format(job=view.job), face=Face.BOLD, size=18),
                Label(f"{view.place} · {_(view.mode)}", colour=SOFT, size=13),
                gap=2,
                grow=1.0,
            ),
            Button(_("See the yard"), lambda: on_moment(view.now)),
            Button(_("To the front desk"), on_desk, look="main"),
            gap=12,
            pad=(28, 12),
            fill=SHEET,
        )
        super().__init__(head, Column(middle, pad=(28, 12), grow=1.0), gap=0, role="screen", label=_("debrief"))
