"""The sheet as PDF: pages with their foot, the shipped fonts, headings, running text, stamps, bars and tables.

The one place that knows fpdf2. It is loaded when a PDF is asked for, not before.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from typing import Final, Literal

from fpdf import FPDF
from fpdf.fonts import FontFace

from sim.said import joined, said
from trainer import CAUTION
from trainer.language import _, spoken
from trainer.reports.page import Heading
from trainer.reports.typeface import BLUSH, CLEAR, DANGER, INK, PAPER, RULE, SOFT, font_files

FONT: Final = "sheet"
WHITE: Final = "#FFFFFF"
MARGIN_MM: Final = 18.0
WIDE_MM: Final = 210.0 - 2 * MARGIN_MM
FOOT_MM: Final = 16.0
LEAST_MM: Final = 17.0
"""What stands of a part below its heading before a page may end."""
SMALL: Final = 8.0
TEXT: Final = 9.5
"""Sizes of letters [pt]."""


class Sheet(FPDF):
    """An A4 page after the other; what doesn't fit goes on on the next."""

    def __init__(self, kind: str, heading: Heading) -> None:
        """`kind` is what the title block calls it, in the language spoken."""
        super().__init__(format="A4")
        self._foot = " · ".join(filter(None, (kind, _(heading.job), heading.place, heading.who)))
        for style, file in (("", "regular"), ("B", "bold")):
            self.add_font(FONT, style, font_files()[file])
        self.set_title(f"{kind} · {_(heading.job)}")
        self.set_lang(spoken())
        self.set_margin(MARGIN_MM)
        self.set_auto_page_break(True, FOOT_MM + 4.0)
        self.add_page()
        self._title_block(kind, heading)

    def footer(self) -> None:
        """What this is, what it is not, and which page of how many."""
        self.set_y(-FOOT_MM)
        self.set_draw_color(RULE)
        self.line(MARGIN_MM, self.get_y(), MARGIN_MM + WIDE_MM, self.get_y())
        self.ink(7.0, SOFT)
        self.set_y(self.get_y() + 1.5)
        room = WIDE_MM - 24.0
        foot = self._foot
        while self.get_string_width(foot) > room - 2.0:
            foot = foot.rstrip("…")[:-1] + "…"
        self.cell(room, 4, foot)
        self.cell(
            24.0, 4, _(said("page {page} of {pages}", page=self.page_no(), pages=self.str_alias_nb_pages)), align="R"
        )
        self.ln(4)
        self.cell(WIDE_MM, 4, _("Training model: not a safety assessment of any real gate."))

    def _title_block(self, kind: str, heading: Heading) -> None:
        self.say(kind.upper(), SMALL, SOFT, bold=True)
        self.say(_(heading.job), 20.0, bold=True)
        self.say(heading.place, 11.0, SOFT)
        facts = [
            _(heading.mode),
            _(heading.grade),
            _(said("draw {seed}", seed=heading.seed)),
            _(said("time {time}", time=heading.time)),
            heading.who,
            heading.when,
        ]
        self.say(" · ".join(filter(None, facts)), TEXT)
        self.ln(1.5)
        self.set_fill_color(BLUSH)
        self.ink(TEXT, DANGER)
        self.multi_cell(
            WIDE_MM, 5, _(joined([said("Caution."), CAUTION])), fill=True, padding=2, new_x="LMARGIN", new_y="NEXT"
        )
        self.ln(3)

    # -- words

    def ink(self, size_pt: float, colour: str = INK, bold: bool = False) -> None:
        """How the next letters look."""
        self.set_font(FONT, "B" if bold else "", size_pt)
        self.set_text_color(colour)

    def say(self, text: str, size_pt: float = TEXT, colour: str = INK, bold: bool = False) -> None:
        """A paragraph over the whole width; nothing for an empty text."""
        if text:
            self.ink(size_pt, colour, bold)
            self.multi_cell(WIDE_MM, size_pt * 0.5, text, align="L", new_x="LMARGIN", new_y="NEXT")
            self.ln(0.8)

    def labelled(self, label: str, text: str) -> None:
        """A paragraph after a bold word; nothing for an empty text."""
        if text:
            self.ink(TEXT, INK, bold=True)
            self.write(TEXT * 0.5, f"{label} ")
            self.ink(TEXT)
            self.write(TEXT * 0.5, text)
            self.ln(TEXT * 0.5 + 0.8)

    def heading(self, text: str, below_mm: float = LEAST_MM) -> None:
        """The name of a part, with a line under it, never alone at the foot of a page: on one with `below_mm` of what
        follows."""
        self.keep_together(below_mm + 13.0)
        self.ln(3)
        self.start_section(text)
        self.ink(13.0, INK, bold=True)
        self.cell(WIDE_MM, 7, text, border="B", new_x="LMARGIN", new_y="NEXT")
        self.ln(2)

    def keep_together(self, high_mm: float) -> None:
        """A new page unless so much room is left on this one."""
        if self.will_page_break(high_mm):
            self.add_page()

    # -- figures

    def bar(self, name: str, share: float, told: str) -> None:
        """A share from 0 to 1 as a bar between its name and its numbers."""
        self.keep_together(6.0)
        y = self.get_y()
        self.ink(TEXT)
        self.cell(38, 5, name)
        self.set_draw_color(SOFT)
        self.rect(MARGIN_MM + 40, y + 1.2, 100, 2.8)
        self.set_fill_color(CLEAR if share >= 1.0 - 1e-9 else INK)
        if share > 0.0:
            self.rect(MARGIN_MM + 40, y + 1.2, 100 * min(share, 1.0), 2.8, style="F")
        self.set_xy(MARGIN_MM + 143, y)
        self.cell(WIDE_MM - 143, 5, told, align="R", new_x="LMARGIN", new_y="NEXT")

    def rows(
        self,
        names: Sequence[str],
        rows: Iterable[Sequence[str]],
        widths: Sequence[float],
        aligns: Sequence[Literal["LEFT", "RIGHT"]],
    ) -> None:
        """A table whose names stand again on every page it runs over."""
        self.ink(SMALL)
        self.set_draw_color(RULE)
        self.set_fill_color(WHITE)  # a row with a colour of its own would leave it to the next
        head = FontFace(emphasis="BOLD", color=SOFT, fill_color=PAPER)
        with self.table(
            width=WIDE_MM, col_widths=tuple(widths), text_align=tuple(aligns), borders_layout="HORIZONTAL_LINES",
            headings_style=head, line_height=4.2, padding=(0.6, 1.0),
        ) as table:  # fmt: skip
            table.row(list(names))
            for cells in rows:
                table.row(list(cells))
        self.ln(2)

    def picture(self, png: bytes, size_in: tuple[float, float], told: str) -> None:
        """A drawing over the whole width; `told` is read out to whoever can't see it."""
        self.keep_together(high_mm(size_in))
        self.image(io.BytesIO(png), MARGIN_MM, w=WIDE_MM, h=high_mm(size_in) - 2.0, alt_text=told)
        self.ln(2)


def high_mm(size_in: tuple[float, float]) -> float:
    """How much of a page a drawing over the whole width takes, with the room round it."""
    return WIDE_MM * size_in[1] / size_in[0] + 2.0
