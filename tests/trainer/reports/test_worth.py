"""What each measurement was worth, on page, print and console: where it is known, and silence where it isn't."""

from __future__ import annotations

import io
from dataclasses import replace

from pypdf import PdfReader

from sim.units import SECOND, Us
from trainer.cli import printed
from trainer.reports.debrief import debrief_html
from trainer.reports.debrief_pdf import debrief_pdf
from trainer.reports.page import Heading
from trainer.session.worth import MadeRow, RepairRow, WorthView

WORTH = WorthView(
    "there",
    made=(
        MadeRow(12, Us(131 * SECOND), "watching it open from shut", 0.84, 0.62, 1.27, "multimeter, volts dc, lamp"),
        MadeRow(14, Us(171 * SECOND), "what stands on the sheet", 0.31, -0.04, 0.31, ""),
    ),
    repaired=(
        RepairRow(20, Us(300 * SECOND), "align: outer beam", ("photo beam misaligned",), 41.6),
        RepairRow(22, Us(360 * SECOND), "grease: hinges", (), 0.0),
    ),
)


def flat(text: str) -> str:
    return " ".join(text.split())


def test_page_and_print_tell_it(view, debrief, reader) -> None:
    """Bits to one decimal with the best of then in words, the belief in whole percent, and that marks don't hang on
    it; what surprised by less than a tenth is nothing, without a sign."""
    told = replace(debrief, worth=WORTH)
    page = reader(debrief_html(Heading.of(view), told)).words
    pdf = PdfReader(io.BytesIO(debrief_pdf(Heading.of(view), told)))
    prints = flat(" ".join(each.extract_text() for each in pdf.pages))
    assert "Marks don't depend on it" in page
    assert "0:02:11.00 watching it open from shut 0.8 0.6 1.3 multimeter, volts dc, lamp" in page
    assert "0:02:51.00 what stands on the sheet 0.3 0.0 0.3 nothing would have told more" in page
    assert "0:05:00.00 align: outer beam photo beam misaligned 42" in page
    assert "grease: hinges mends nothing that this gate can have failed by" in page
    assert "Marks don't depend on it" in prints
    for cell in ("0.8 0.6 1.3", "0.3 0.0 0.3", "photo beam misaligned 42", "mends nothing that this gate can have"):
        assert cell in prints


def test_without_it_nothing_is_said(view, debrief, reader) -> None:
    """No heading over nothing."""
    assert "worth" not in reader(debrief_html(Heading.of(view), debrief)).words
    pdf = PdfReader(io.BytesIO(debrief_pdf(Heading.of(view), debrief)))
    assert "worth" not in " ".join(each.extract_text() for each in pdf.pages)


def test_the_console_tells_it(debrief, capsys) -> None:
    """The same rows."""
    printed.debrief("First run", 3, replace(debrief, worth=WORTH))
    told = flat(capsys.readouterr().out)
    assert "0.8" in told
    assert "1.3" in told
    assert "align: outer beam photo beam misaligned 42" in told
    assert "grease: hinges mends nothing that this gate can have failed by" in told
    printed.debrief("First run", 3, debrief)
    assert "bit" not in capsys.readouterr().out
