"""The drawing of the controller's states: all of the table is on it, and no word lies on another or on a line."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import combinations, pairwise
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import pytest
from PIL import ImageFont

from sim.controller.machine import GROUPS, ROWS, State
from trainer import CAUTION
from trainer.reports import state_chart

FONTS = Path(__file__).resolve().parents[3] / "assets/fonts"
SVG = "{http://www.w3.org/2000/svg}"

Line = tuple[tuple[float, float], tuple[float, float]]


class Word(NamedTuple):
    """A text as it stands on the sheet, turned about its beginning."""

    text: str
    x: float
    y: float
    wide: float
    size: float
    turn: float

    def corners(self) -> list[tuple[float, float]]:
        """Its corners, from the top of a capital to the base line; so much must be free."""
        cos, sin = math.cos(math.radians(self.turn)), math.sin(math.radians(self.turn))
        flat = [(0.0, 0.0), (self.wide, 0.0), (self.wide, -0.7 * self.size), (0.0, -0.7 * self.size)]
        return [(self.x + cos * x - sin * y, self.y + sin * x + cos * y) for x, y in flat]


@pytest.fixture(scope="module")
def drawing() -> ElementTree.Element:
    return ElementTree.fromstring(state_chart.svg())


def words_of(drawing: ElementTree.Element) -> list[Word]:
    """Every text, as wide as the shipped typeface makes it."""
    found = []
    for text in drawing.iter(f"{SVG}text"):
        size = float(text.get("font-size", 13))
        name = "B612-Bold.otf" if text.get("font-weight") == "bold" else "B612-Regular.otf"
        wide = ImageFont.truetype(FONTS / name, 100).getlength(str(text.text)) * size / 100
        turned = re.match(r"translate\(([\d.]+) ([\d.]+)\) rotate\((-?\d+)\)", text.get("transform", ""))
        x, y, turn = (float(part) for part in turned.groups()) if turned else (_at(text, "x"), _at(text, "y"), 0.0)
        x -= wide / 2 if text.get("text-anchor") == "middle" else 0.0
        found.append(Word(str(text.text), x, y, wide, size, turn))
    return found


def _at(element: ElementTree.Element, name: str) -> float:
    return float(element.get(name, 0))


def lines_of(drawing: ElementTree.Element) -> Iterator[Line]:
    """Every stroke: paths, and the four sides of every frame."""
    for path in drawing.iter(f"{SVG}path"):
        points = [(float(x), float(y)) for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", path.get("d", ""))]
        yield from pairwise(points)
    for frame in drawing.iter(f"{SVG}rect"):
        x, y = _at(frame, "x"), _at(frame, "y")
        right, bottom = x + _at(frame, "width"), y + _at(frame, "height")
        corners = [(x, y), (right, y), (right, bottom), (x, bottom), (x, y)]
        yield from pairwise(corners)


def parted(one: list[tuple[float, float]], other: list[tuple[float, float]]) -> bool:
    """Whether some line lies between two convex shapes (separating axes)."""
    for shape in (one, other):
        for (x0, y0), (x1, y1) in zip(shape, [*shape[1:], shape[0]], strict=True):
            across = (y0 - y1, x1 - x0)
            here, there = ([across[0] * x + across[1] * y for x, y in points] for points in (one, other))
            if max(here) <= min(there) or max(there) <= min(here):
                return True
    return False


def test_no_word_lies_on_another(drawing: ElementTree.Element) -> None:
    """Measured with the shipped typeface."""
    for one, other in combinations(words_of(drawing), 2):
        assert parted(one.corners(), other.corners()), f"'{one.text}' lies on '{other.text}'"


def test_no_line_crosses_a_word(drawing: ElementTree.Element) -> None:
    """Neither an arrow, nor a rail, nor the side of a frame."""
    lines = list(lines_of(drawing))
    for word in words_of(drawing):
        for line in lines:
            assert parted(word.corners(), list(line)), f"a line from {line[0]} to {line[1]} crosses '{word.text}'"


def test_everything_lies_on_the_sheet(drawing: ElementTree.Element) -> None:
    """No word and no line reaches over the edge."""
    wide, high = float(drawing.get("width", 0)), float(drawing.get("height", 0))
    points = [corner for word in words_of(drawing) for corner in word.corners()]
    points += [point for line in lines_of(drawing) for point in line]
    assert all(0 <= x <= wide and 0 <= y <= high for x, y in points)


def test_the_comparison_notices_a_word_that_is_too_wide(drawing: ElementTree.Element) -> None:
    """Seeded bug: a longer name runs over the side of its chip."""
    longer = ElementTree.fromstring(state_chart.svg().replace(">jog</text>", ">jogging one leaf</text>", 1))
    word = next(word for word in words_of(longer) if word.text == "jogging one leaf")
    assert not all(parted(word.corners(), list(line)) for line in lines_of(longer))


def test_every_way_of_the_table_is_on_the_ladder(drawing: ElementTree.Element) -> None:
    """As many rings as ways, as many discs as triggers, each on its own upright, on the rails of its states."""
    rails = {word.text: word.y - 4 for word in words_of(drawing) if word.x == state_chart.MARGIN + 12}
    heads = {word.text: word.x - 4 for word in words_of(drawing) if word.turn}
    rings, discs = set(), set()
    for circle in drawing.iter(f"{SVG}circle"):
        marks = rings if circle.get("r") == "4.2" else discs
        marks.add((_at(circle, "cx"), _at(circle, "cy")))
    for trigger, sources, target in ROWS:
        assert {(heads[trigger], rails[source.value]) for source in sources} <= rings
        assert (heads[trigger], rails[target.value]) in discs
    legend = 1
    assert len(rings) == sum(len(sources) for _, sources, _ in ROWS) + legend
    assert len(discs) == len(ROWS) + legend


def test_the_map_tells_each_trigger_between_groups_once_a_way(drawing: ElementTree.Element) -> None:
    """Every trigger stands on the map, within its group or on an arrow, or is told of as leading from everywhere."""
    words = " ".join(word.text for word in words_of(drawing) if not word.turn)
    for trigger, _, _ in ROWS:
        assert re.search(rf"(?<!\w){trigger}(?!\w)", words), trigger


def test_every_state_has_a_group() -> None:
    """One, and no more."""
    grouped = [state for states in GROUPS.values() for state in states]
    assert sorted(grouped, key=lambda state: state.name) == sorted(State, key=lambda state: state.name)


def test_it_is_a_drawing_of_ours(drawing: ElementTree.Element) -> None:
    """The typeface is named, the caution is on it, it can be read out, and it is the same each time."""
    assert str(drawing.get("font-family")).startswith("B612")
    assert drawing.findtext(f"{SVG}title")
    assert CAUTION in [word.text for word in words_of(drawing)]
    assert state_chart.svg() == state_chart.svg()
