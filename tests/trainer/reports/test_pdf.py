"""The debrief in print: read back with another library (pypdf); pages are bounded, an empty attempt is one too."""

from __future__ import annotations

import io
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from sim.units import SECOND, Us
from trainer import CAUTION
from trainer.reports.debrief_pdf import debrief_pdf
from trainer.reports.page import Heading
from trainer.reports.written import write_debrief, write_reports
from trainer.session.lookback import CompetenceView, LeftView, MeasuredView, OverruledView, RulingView, WayRow
from trainer.session.view import DebriefView, FindingView, StripView, View

HEADING = Heading(
    "First run", "Tannery Lane", "working", "practice", 3, "0:42:12.40", "25 November 2026", "R. Fenwick"
)

MEASURED = (MeasuredView(31, Us(300 * SECOND), "multimeter, volts dc, red on board supply, plus", "24.1 V"),)

WAY = (
    WayRow("both", "isolate", "isolate", 12, Us(100 * SECOND)),
    WayRow("left out", "test dead: board supply, plus", ""),
    WayRow("besides", "", "learn travel", 20, Us(200 * SECOND)),
)


@pytest.fixture
def whole(debrief: DebriefView) -> DebriefView:
    """With everything that a debrief can hold."""
    return replace(
        debrief,
        measured=MEASURED,
        way=WAY,
        left=LEFT,
        practise="A guard was bridged: declare it as not fitted.",
        competences=COMPETENCES,
        overruled=OVERRULED,
    )


LEFT = (LeftView(Us(60 * SECOND), Us(90 * SECOND), 2),)


COMPETENCES = (
    CompetenceView("Proves what protects", "Trips every guard.", "not shown", "Unsafe: a guard was bridged."),
    CompetenceView("Measures force", "Reads it three times.", "not asked", "This job asked for nothing of it."),
)


OVERRULED = OverruledView(
    71.0,
    "developing",
    (RulingView("Sheet sealed", "passed", "failed", 4.0, "T. Marsh", "It was open.", "2026-05-04T09:30:00+00:00"),),
)


def words(printed: bytes) -> str:
    """All words of all pages, in one line."""
    return " ".join(" ".join(page.extract_text() for page in PdfReader(io.BytesIO(printed)).pages).split())


HEADINGS = {
    "Result",
    "Findings",
    "What was measured",
    "Closing force",
    "The expert's way, and yours",
    "What the gate did",
}


@pytest.mark.parametrize("more", range(0, 60, 6))
def test_no_heading_stands_alone_at_the_foot_of_a_page(
    whole: DebriefView, view: View, trace: StripView, more: int
) -> None:
    """However far down the page a part begins; a drawing below a heading has no words that could be read."""
    longer = replace(whole, measured=MEASURED * (1 + more), way=WAY * (1 + more // 2))
    pages = PdfReader(io.BytesIO(debrief_pdf(HEADING, longer, view.curves, trace))).pages
    assert len(pages) > 2
    ends = [page.extract_text().partition("\nDebrief · ")[0].rstrip().splitlines()[-1:] for page in pages]
    drawn = [bool(page.images) for page in pages]
    assert [end for end, below in zip(ends, drawn, strict=True) if HEADINGS & set(end) and not below] == []


def test_everything_that_was_said_is_read_back(whole: DebriefView, view: View, trace: StripView) -> None:
    """Title block, caution before the result, every finding with its evidence, measurements, the way, the advice."""
    told = words(debrief_pdf(HEADING, whole, view.curves, trace))
    assert told.index("certifies nothing") < told.index("39 of 100")
    for text in (
        "Overruled by an instructor: developing, 71 of 100",
        "computed: passed; overruled: failed · 4.0 points lost Sheet sealed T. Marsh, 2026-05-04: It was open.",
        "not shown Proves what protects Trips every guard. Unsafe: a guard was bridged.", "not asked Measures force",
        "First run", "Tannery Lane", "R. Fenwick", "25 November 2026", "draw 3", "Safe? no", "26.0 of 30",
        "not judged",
        "grave · failed · safety · 20.0 points lost", "line 23 · 0:04:12.00 · bridge: inner beam",
        "multimeter, volts dc, red on board supply, plus 24.1 V", "isolate the same isolate 0:01:40.00",
        "test dead: board supply, plus left out", "besides learn travel 0:03:20.00",
        "Gone on from 0:01:00.00: what came after, up to 0:01:30.00, was left (2 acts).",
        "Practise next. A guard was bridged: declare it as not fitted.", "page 1 of", "peak [N]",
    ):  # fmt: skip
        assert text in told, text
    for finding in whole.findings:
        assert finding.title in told
        assert finding.what in told
    assert " ".join(CAUTION.split()[:6]) in told


def test_pages_are_of_one_size_and_say_which_they_are(whole: DebriefView, view: View, trace: StripView) -> None:
    """A4 (210 by 297 mm, ISO 216); the foot counts to the real number of pages; fonts are the shipped ones."""
    reader = PdfReader(io.BytesIO(debrief_pdf(HEADING, whole, view.curves, trace)))
    count = len(reader.pages)
    assert 3 <= count <= 7
    for n, page in enumerate(reader.pages, start=1):
        assert float(page.mediabox.width) == pytest.approx(210 / 25.4 * 72, abs=0.1)
        assert float(page.mediabox.height) == pytest.approx(297 / 25.4 * 72, abs=0.1)
        assert f"page {n} of {count}" in " ".join(page.extract_text().split())
        fonts = page["/Resources"]["/Font"].values()
        assert all("B612" in str(font.get_object()["/BaseFont"]) for font in fonts)


def test_nothing_is_written_beyond_the_edge(whole: DebriefView) -> None:
    """However long a word, a sentence, a list: every letter begins and every line ends within the paper."""
    endless = FindingView(
        "safety", "failed", "W" * 300, "x" * 3000, "word " * 900, "y" * 200, 1.0, True,
        tuple((n, Us(n * SECOND), "z" * 250) for n in range(60)),
    )  # fmt: skip
    heading = replace(HEADING, job="J" * 120, place="P" * 200, who="Q" * 200)
    many = tuple(replace(MEASURED[0], what="m" * 200, shown="s" * 90) for _ in range(80))
    grown = replace(whole, findings=(endless,) * 3, measured=many, practise="p" * 400)
    reader = PdfReader(io.BytesIO(debrief_pdf(heading, grown)))
    assert 10 < len(reader.pages) < 60
    for page in reader.pages:
        spots: list[tuple[float, float]] = []

        def note(text: str, _cm: Any, tm: Any, _font: Any, _size: Any, spots: Any = spots) -> None:
            if text.strip():
                spots.append((float(tm[4]), float(tm[5])))

        page.extract_text(visitor_text=note)
        assert spots
        assert all(0.0 < x < 210 / 25.4 * 72 and 0.0 < y < 297 / 25.4 * 72 for x, y in spots)


def test_an_empty_attempt_is_printed_as_what_it_is() -> None:
    """No finding, no reading, no curve, no solution: sentences that say so instead of a trace of an error."""
    told = words(debrief_pdf(Heading("", "", "", "practice", 0, "0:00:00.00"), DebriefView("", 0.0, (), (), (), "")))
    for text in ("0 of 100", "There are no findings.", "Nothing was measured.", "No closing force was measured."):
        assert text in told
    assert "expert" not in told


def test_signs_of_the_trade_are_printed(whole: DebriefView) -> None:
    """Degrees, ohms, minus, micro and letters with accents are in the shipped fonts."""
    told = words(
        debrief_pdf(replace(HEADING, who="Müller-Peña"), replace(whole, practise="8.2 kΩ at −5 °C, 3 µA × 2"))
    )
    assert "Müller-Peña" in told
    assert "8.2 kΩ at −5 °C, 3 µA × 2" in told


def test_it_stands_beside_the_page(view: View, whole: DebriefView, tmp_path: Path) -> None:
    """Both reports and the print are written; without a result there is nothing to print, and that is said."""
    written = write_reports(replace(view, debrief=whole), tmp_path)
    assert written.printed == tmp_path / "debrief.pdf"
    assert "24.1 V" in words(written.printed.read_bytes())
    ungraded = replace(view, debrief=None)
    assert write_reports(ungraded, tmp_path / "other").printed is None
    with pytest.raises(ValueError, match="not graded"):
        write_debrief(ungraded, tmp_path, "print")


def test_a_name_that_is_taken_is_left_alone(view: View, whole: DebriefView, tmp_path: Path) -> None:
    """Written again, the report stands beside the first one; what a file can't be called is left out of its name."""
    job = replace(view, debrief=whole, job="It closes/opens: again?")
    first, second = (write_debrief(job, tmp_path / "new", "print") for _ in range(2))
    page = write_debrief(job, tmp_path / "new", "page", when="26 November 2026")
    assert [path.name for path in (first, second, page)] == [
        "debrief It closes opens  again.pdf",
        "debrief It closes opens  again 2.pdf",
        "debrief It closes opens  again.html",
    ]
    assert words(first.read_bytes()) == words(second.read_bytes())
    assert "26 November 2026" in page.read_text(encoding="utf-8")


def test_the_library_is_loaded_when_something_is_printed_and_not_before() -> None:
    """Whoever writes a page needs no PDF."""
    code = "import sys, trainer.reports; print(sorted(m for m in sys.modules if m.split('.')[0] == 'fpdf'))"
    out = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=120)
    assert out.stdout.strip() == "[]"
