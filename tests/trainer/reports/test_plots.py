"""The drawings: what they show is what was measured, the limits stand where the rules say, nobody needs colour."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from babel.messages.pofile import read_po

from sim.instruments.rule_sets import CRUSH, FREE_IMPACT, RuleSet
from trainer import language
from trainer.reports import force_plot, trace_plot, typeface
from trainer.reports.drawing import on_sheet, png, svg
from trainer.reports.written import write_reports
from trainer.session.view import Curve, StripView, View
from trainer.window.languages import catalogues


@pytest.fixture
def figure() -> Any:
    from matplotlib.figure import Figure

    return Figure(figsize=(7, 3))


def lines(axes: Any) -> list[list[tuple[float, float]]]:
    """Every line of a plot as its points."""
    return [
        list(zip(*(np.asarray(part, float).tolist() for part in line.get_data()), strict=True)) for line in axes.lines
    ]


@pytest.mark.parametrize(("rules", "peak"), [(CRUSH, 400.0), (FREE_IMPACT, 1400.0)])
def test_limits_are_drawn_where_the_rules_say(readings: Any, figure: Any, rules: RuleSet, peak: float) -> None:
    """400 (or 1400) N up to 0.75 s, 150 N up to 5 s, 25 N after: the edge of the hatched part (facts 1.2)."""
    force_plot.force_drawing(readings, rules)(figure)
    edge = [(0.0, peak), (0.75, peak), (0.75, 150.0), (5.0, 150.0), (5.0, 25.0), (8.0, 25.0)]
    for axes in figure.axes:
        assert edge in lines(axes)
    assert figure.axes[0].get_ylim()[1] > peak, "the limit must be in the picture"


@pytest.mark.parametrize(
    ("rules", "words"),
    [(CRUSH, "peak at most 400 N"), (FREE_IMPACT, "peak at most 1400 N")],
)
def test_limits_are_labelled_in_words(readings: Any, rules: RuleSet, words: str) -> None:
    """Each limit says what it is, beside its line."""
    text = svg("f", "t", force_plot.force_drawing(readings, rules), force_plot.SIZE_IN, inline=True)
    for label in (words, "above 150 N: 0.75 s in all", "at most 150 N after 0.75 s", "at most 25 N", "after 5 s"):
        assert f">{label}<" in text, label


def test_every_reading_is_drawn_as_it_was_measured(readings: tuple[Curve, ...], figure: Any) -> None:
    """The lines are the curves, and each is named with its own peak."""
    force_plot.force_drawing(readings, CRUSH)(figure)
    for axes in figure.axes:
        drawn = lines(axes)
        for curve in readings:
            assert list(zip(curve.time_s, curve.force_n, strict=True)) in drawn
    names = [text.get_text() for text in figure.legends[0].get_texts()]
    assert names == ["reading 1: 372 N", "reading 2: 384 N", "reading 3: 366 N"]
    handles = [(handle.get_color(), handle.get_linestyle()) for handle in figure.legends[0].get_lines()]
    own = [(line.get_color(), line.get_linestyle()) for line in figure.axes[0].lines if line.get_zorder() == 4]
    assert handles == own, "a name stands beside the line it names"


def words_of(figure: Any) -> list[tuple[str, Any]]:
    """Every word of a drawn figure with the box it takes [pixels]."""
    from matplotlib.backends.backend_agg import FigureCanvasAgg

    canvas = FigureCanvasAgg(figure)
    canvas.draw()
    ticks = [tick for axes in figure.axes for tick in (*axes.get_xticklabels(), *axes.get_yticklabels())]
    named = [text for axes in figure.axes for text in (*axes.texts, axes.yaxis.label)]
    legend = [text for one in figure.legends for text in one.get_texts()]
    texts = [text for text in (*ticks, *named, *figure.texts, *legend) if text.get_visible() and text.get_text()]
    return [(text.get_text(), text.get_window_extent(canvas.get_renderer())) for text in texts]


@pytest.mark.parametrize(
    "title", ["", "Tannery Lane, yard gate: inactive leaf, opening, gap 300 mm, half height. Marginal"]
)
@pytest.mark.parametrize("count", [1, 3, 7])
@pytest.mark.parametrize("peak", [30.0, 150.0, 390.0, 1900.0])
@pytest.mark.parametrize("rest", ["rigid rest", "by hand"])
def test_no_words_lie_on_each_other_or_are_cut(
    readings: tuple[Curve, ...], peak: float, count: int, title: str, rest: str
) -> None:
    """Whatever was measured, and however often: each word keeps its place, inside the picture."""
    forces = tuple(f * peak / 372 for f in readings[0].force_n)
    same = (replace(readings[0], peak_n=peak, force_n=forces, rest=rest),) * count
    with on_sheet(force_plot.force_drawing(same, CRUSH, title), force_plot.SIZE_IN) as figure:
        words, picture = words_of(figure), figure.bbox
        assert len(words) > 12
        for text, box in words:
            assert picture.x0 <= box.x0 < box.x1 <= picture.x1, text
            assert picture.y0 <= box.y0 < box.y1 <= picture.y1, text
        for (one, box), (other, beside) in combinations(words, 2):
            assert not box.overlaps(beside), (one, other)


@pytest.fixture(params=sorted(path.parts[-3] for path in catalogues().glob("*/LC_MESSAGES/gudgeon.po")))
def spoken(request: pytest.FixtureRequest) -> Iterator[str]:
    """Each language that somebody translates into, spoken; English again afterwards."""
    with (catalogues() / request.param / "LC_MESSAGES" / "gudgeon.po").open("rb") as file:
        told = {entry.id: entry.string for entry in read_po(file) if entry.string}
    language.speak(lambda text: told.get(text, text), request.param)
    yield request.param
    language.speak(str)


@pytest.mark.parametrize("rest", ["rigid rest", "by hand"])
def test_words_have_their_place_in_every_language(
    spoken: str, readings: tuple[Curve, ...], trace: StripView, rest: str
) -> None:
    """Longer ones too: inside the picture, and not on each other."""
    same = (replace(readings[0], rest=rest),) * 3
    for drawing, size in (
        (force_plot.force_drawing(same, CRUSH), force_plot.SIZE_IN),
        (trace_plot.trace_drawing(trace), trace_plot.SIZE_IN),
    ):
        with on_sheet(drawing, size) as figure:
            words, picture = [word for word in words_of(figure) if re.search(r"[^\W\d_]", word[0])], figure.bbox
        assert len(words) > 5
        for text, box in words:
            assert picture.x0 <= box.x0 < box.x1 <= picture.x1, text
            assert picture.y0 <= box.y0 < box.y1 <= picture.y1, text
        for (one, box), (other, beside) in combinations(words, 2):
            assert not box.overlaps(beside), (one, other)
    assert language._("force [N]") != "force [N]"


def test_a_blow_beyond_the_limit_stays_in_the_picture(readings: tuple[Curve, ...], figure: Any) -> None:
    """The scale follows the highest peak, the limit is still drawn."""
    high = replace(readings[0], peak_n=950.0, force_n=tuple(f * 950 / 372 for f in readings[0].force_n))
    force_plot.force_drawing((high,), CRUSH)(figure)
    assert figure.axes[0].get_ylim()[1] > 950


def luminance(colour: str) -> float:
    """Relative luminance of a colour (WCAG 2, definition of relative luminance)."""
    parts = [int(colour[k : k + 2], 16) / 255 for k in (1, 3, 5)]
    linear = [p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, two: str) -> float:
    """Contrast ratio of two colours (WCAG 2)."""
    low, high = sorted((luminance(one), luminance(two)))
    return (high + 0.05) / (low + 0.05)


def test_colour_never_carries_meaning_alone() -> None:
    """Readings differ by dash as well as by colour; so do the leaves (design rule of the project)."""
    for styles in (force_plot.LINES, [(c, d) for _, c, d in trace_plot.LEAVES]):
        for (one, dash), (other, other_dash) in combinations(styles, 2):
            assert one != other
            assert dash != other_dash


@pytest.mark.parametrize("name", ["INK", "SOFT", "CLEAR", "WIRE", "DANGER", "AMBER"])
def test_words_can_be_read_on_the_sheet(name: str) -> None:
    """Every colour that words are printed in has a contrast of at least 4.5 to 1 on the sheet (WCAG 2, 1.4.3)."""
    assert contrast(getattr(typeface, name), typeface.SHEET) >= 4.5


def test_labels_of_readings_can_be_read() -> None:
    """The readings' labels are printed in the colour of their lines: 4.5 to 1 as well (WCAG 2, 1.4.3)."""
    assert all(contrast(colour, typeface.SHEET) >= 4.5 for colour, _ in force_plot.LINES)
    assert contrast(typeface.DANGER, typeface.BLUSH) >= 4.5


def test_the_trace_shows_what_was_recorded(trace: StripView, figure: Any) -> None:
    """Both leaves' angles and currents are the recording, held to the end; a danger is marked at its time."""
    trace_plot.trace_drawing(trace)(figure)
    angle, current, levels = figure.axes
    for axes, what in ((angle, "angle"), (current, "current")):
        for line, (name, _, _) in zip(axes.lines, trace_plot.LEAVES, strict=False):
            times, values = line.get_data()
            assert np.array_equal(times[:-1], np.asarray(trace.time_s))
            assert np.array_equal(values[:-1], np.asarray(trace.channels[f"{name} {what}"]))
            assert times[-1] == trace.end_s
    assert [256.0, 256.0] in [list(line.get_xdata()) for line in angle.lines]
    assert "danger" in [text.get_text() for text in angle.texts]
    assert levels.get_xlim() == (0.0, 310.0)
    bars = [[path.get_extents().intervalx.tolist() for path in bar.get_paths()] for bar in levels.collections]
    assert np.allclose(bars[0], [[255.05, 262.0]], atol=0.06)
    assert np.allclose(bars[1], [[10.05, 11.0], [244.05, 245.0]], atol=0.06)


def test_a_long_recording_is_drawn_by_its_extremes(figure: Any) -> None:
    """An hour at 100 Hz becomes a small picture in which every spike, however short, still stands at its place."""
    time = np.arange(0.0, 3600.0, 0.01)
    spiky = np.sin(time / 100)
    spiky[[5, 123_456, 359_000]] = 40.0, -30.0, 55.0
    names = [f"{leaf} {what}" for leaf in ("active", "inactive") for what in ("angle", "current")]
    long = StripView(
        time, {**dict.fromkeys(names, spiky), **dict.fromkeys(("guards", "commands"), 0 * time)}, (), 3600.0
    )
    trace_plot.trace_drawing(long)(figure)
    times, values = figure.axes[0].lines[0].get_data()
    assert len(times) <= trace_plot.MOST_POINTS + 4
    assert (np.diff(times) >= 0).all()
    for row in (5, 123_456, 359_000):
        assert values[np.searchsorted(times, time[row])] == spiky[row]
    assert set(values.tolist()) <= set(spiky.tolist())


def test_a_short_and_a_long_job_have_readable_times(trace: StripView, figure: Any) -> None:
    """Never more than nine labels, from ten seconds to two hours, and at least two."""
    for end in (9.0, 61.0, 1500.0, 7200.0):
        figure.clear()
        trace_plot.trace_drawing(replace(trace, end_s=end, time_s=np.asarray(trace.time_s) * end / 310))(figure)
        assert 2 <= len(figure.axes[2].get_xticks()) <= 9


def test_files_are_whole_and_always_the_same(view: View, tmp_path: Path) -> None:
    """Both pages, and each drawing as SVG (well-formed, titled, undated) and PNG, with equal bytes twice."""
    once = write_reports(view, tmp_path / "a" / "b", when="today")
    twice = write_reports(view, tmp_path / "c", when="today")
    assert [path.name for path in once.pictures] == ["force-1.svg", "force-1.png", "trace.svg", "trace.png"]
    assert once.debrief is not None
    for path in (once.debrief, once.record, *once.pictures):
        assert path.read_bytes() == (tmp_path / "c" / path.name).read_bytes(), path.name
        if path.suffix == ".svg":
            root = ElementTree.parse(path).getroot()
            assert root.attrib["aria-label"].startswith(("Force against time", "Leaf angles"))
            assert "date" not in path.read_text(encoding="utf-8").lower()
        if path.suffix == ".png":
            assert path.read_bytes().startswith(b"\x89PNG\r\n\x1a\n")
    assert twice.debrief == tmp_path / "c" / "debrief.html"


def test_nothing_graded_leaves_no_debrief(view: View, tmp_path: Path) -> None:
    """Without a grade there is a record and no debrief; without a recording there are no pictures."""
    bare = replace(view, debrief=None, curves=(), strip=StripView((), {}))
    written = write_reports(bare, tmp_path)
    assert written.debrief is None
    assert written.pictures == ()
    assert [path.name for path in tmp_path.iterdir()] == ["commissioning-record.html"]


def test_drawing_opens_no_window_and_shares_no_state(readings: Any) -> None:
    """Pictures are made without pyplot, whose state would be everybody's."""
    assert png(force_plot.force_drawing(readings, CRUSH), (4, 2), 40).startswith(b"\x89PNG")
    assert "matplotlib.pyplot" not in sys.modules


def test_a_title_with_markup_is_text(readings: Any) -> None:
    """What is read out of a drawing can't break out of it."""
    text = svg("f", 'a "<b>" & c', force_plot.force_drawing(readings, CRUSH), (4, 2))
    root = ElementTree.fromstring(text.split("?>", 1)[1].split(">", 1)[1])
    assert root.attrib["aria-label"] == 'a "<b>" & c'
