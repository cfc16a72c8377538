"""The controller's states and every way between them, as one drawing: SVG written by hand, nothing needed beside it.

Two views of one table. Above, a map: the groups of states, and which triggers lead from one group to another. Below,
the ladder: a rail a state, an upright a trigger, a ring where it may be taken, a disc where it leads. Both are laid
out from the table alone, so a new row or state needs no place given by hand.
"""

from __future__ import annotations

from collections.abc import Iterator
from html import escape
from itertools import pairwise
from typing import Final, NamedTuple

from sim.controller.machine import GROUPS, ROWS, State
from trainer import CAUTION
from trainer.reports.typeface import AMBER, CLEAR, DANGER, INK, PAPER, RULE, SHEET, SOFT, WIRE

WIDE: Final = 1260.0
MARGIN: Final = 40.0
LETTER: Final = 0.57
"""Width of a letter of the typeface, as a share of its size, a little above its mean."""

REST: Final = "at rest"
_COLOURS: Final = {
    "power": INK,
    REST: SOFT,
    "starting": CLEAR,
    "moving": CLEAR,
    "stopping, and guards": AMBER,
    "by hand": WIRE,
}
"""Colour of a trigger, by the group it leads to."""

EVERYWHERE: Final = 4
"""A trigger that may be taken in this many groups is told in a line and not drawn on the map."""


class Place(NamedTuple):
    """A frame on the sheet."""

    left: float
    top: float
    wide: float
    high: float

    @property
    def right(self) -> float:
        """Its right edge."""
        return self.left + self.wide

    @property
    def bottom(self) -> float:
        """Its lower edge."""
        return self.top + self.high


def svg() -> str:
    """The drawing as the text of an SVG file; the same for the same table."""
    mapped, map_end = _map(112.0)
    ladder, ladder_end = _ladder(map_end + 54.0)
    high = ladder_end + 62.0
    ways = sum(len(sources) for _, sources, _ in ROWS)
    told = f"{len(State)} states, {len(ROWS)} triggers, {ways} ways"
    title = "The controller: its states and every way between them"
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE:g} {high:g}" width="{WIDE:g}" '
        f'height="{high:g}" role="img" font-family="B612, \'DejaVu Sans\', sans-serif" font-size="13" fill="{INK}">',
        f"<title>{escape(title)}</title>",
        f"<desc>{escape(told)}</desc>",
        f'<rect width="{WIDE:g}" height="{high:g}" fill="{PAPER}"/>',
        f'<rect x="14" y="14" width="{WIDE - 28:g}" height="{high - 28:g}" fill="{SHEET}" stroke="{INK}" '
        'stroke-width="1.5"/>',
        _text(MARGIN, 56, title, size=21, bold=True),
        _text(MARGIN, 80, f"{told}. {_everywhere_told()}", size=12, colour=SOFT),
        *mapped,
        *ladder,
        _text(MARGIN, high - 32, CAUTION, size=11, colour=SOFT),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


# marks


def _text(
    x: float, y: float, words: str, *, size: float = 13, colour: str = INK, anchor: str = "start", bold: bool = False
) -> str:
    weight = ' font-weight="bold"' if bold else ""
    held = f' text-anchor="{anchor}"' if anchor != "start" else ""
    return f'<text x="{x:g}" y="{y:g}" font-size="{size:g}" fill="{colour}"{held}{weight}>{escape(words)}</text>'


def _line(points: list[tuple[float, float]], colour: str, wide: float = 1.4) -> str:
    path = " ".join(f"{'L' if i else 'M'}{x:g} {y:g}" for i, (x, y) in enumerate(points))
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{wide:g}" stroke-linejoin="round"/>'


def _head(tip: tuple[float, float], way: tuple[int, int], colour: str) -> str:
    """An arrowhead with its tip here, pointing along `way`."""
    (x, y), (right, down) = tip, way
    back = [(x - 9 * right + 4.5 * s * down, y - 9 * down + 4.5 * s * right) for s in (-1, 1)]
    return (
        '<path d="'
        + " ".join(f"{'L' if i else 'M'}{px:g} {py:g}" for i, (px, py) in enumerate([tip, *back]))
        + f' Z" fill="{colour}"/>'
    )


def _arrow(points: list[tuple[float, float]], colour: str) -> list[str]:
    (x0, y0), (x1, y1) = points[-2], points[-1]
    way = ((x1 > x0) - (x1 < x0), (y1 > y0) - (y1 < y0))
    short = (x1 - 6 * way[0], y1 - 6 * way[1])
    return [_line([*points[:-1], short], colour), _head(points[-1], way, colour)]


def _frame(place: Place, fill: str, line: str, round_: float = 3.0, wide: float = 1.4) -> str:
    return (
        f'<rect x="{place.left:g}" y="{place.top:g}" width="{place.wide:g}" height="{place.high:g}" rx="{round_:g}" '
        f'fill="{fill}" stroke="{line}" stroke-width="{wide:g}"/>'
    )


def width(words: str, size: float) -> float:
    """How wide words are at most at a size, both in the drawing's unit."""
    return len(words) * size * LETTER


# what the table says of groups


def _group_of(state: State) -> str:
    return next(name for name, states in GROUPS.items() if state in states)


def _is_everywhere(sources: tuple[State, ...]) -> bool:
    return len({_group_of(source) for source in sources}) >= EVERYWHERE


def _everywhere_told() -> str:
    told = []
    for trigger, sources, target in ROWS:
        if _is_everywhere(sources):
            never = [state.value for state in State if state not in sources and state is not target]
            but = f" but {' and '.join(never)}" if never else ""
            told.append(f"'{trigger}' leads from every other state{but} to {target.value}.")
    return " ".join(told)


def _between() -> dict[tuple[str, str], list[str]]:
    """(from group, to group): the triggers that lead there, in the order of the table; also inside one group."""
    found: dict[tuple[str, str], list[str]] = {}
    for trigger, sources, target in ROWS:
        if _is_everywhere(sources):
            continue
        for group in dict.fromkeys(_group_of(source) for source in sources):
            found.setdefault((group, _group_of(target)), []).append(trigger)
    return found


# the map

_REST_WIDE: Final = 200.0
_STACK_LEFT: Final = 480.0
_STACK_WIDE: Final = 500.0
_GAP: Final = 50.0
_CHIP_HIGH: Final = 26.0


def _map(top: float) -> tuple[list[str], float]:
    """Rest at the left, as high as the stack of the other groups beside it; returns where it ends."""
    between = _between()
    places: dict[str, Place] = {}
    parts: list[str] = []
    y = top
    for group in GROUPS:
        if group == REST:
            continue
        drawn, high = _box(group, Place(_STACK_LEFT, y, _STACK_WIDE, 0.0), between.get((group, group), []))
        places[group] = Place(_STACK_LEFT, y, _STACK_WIDE, high)
        parts += drawn
        y += high + _GAP
    end = y - _GAP
    places[REST] = Place(MARGIN, top, _REST_WIDE, end - top)
    parts += _box(REST, places[REST], between.get((REST, REST), []))[0]
    return [*parts, *_map_arrows(places, between)], end


def _box(group: str, place: Place, inside: list[str]) -> tuple[list[str], float]:
    """A group with its states as chips, in as many lines as they need; returns how high it became."""
    x, y = place.left + 12, place.top + 30
    chips: list[str] = []
    for state in GROUPS[group]:
        wide = width(state.value, 13) + 18
        if x + wide > place.right - 8 and x > place.left + 12:
            x, y = place.left + 12, y + _CHIP_HIGH + 8
        chips += [
            _frame(Place(x, y, wide, _CHIP_HIGH), PAPER, INK, 12.0, 1.1),
            _text(x + wide / 2, y + 17.5, state.value, anchor="middle"),
        ]
        x += wide + 8
    y += _CHIP_HIGH + 8
    lines = _in_lines("inside: " + ", ".join(inside), place.wide - 24, 11) if inside else []
    told = [_text(place.left + 12, y + 10 + 15 * i, line, size=11, colour=SOFT) for i, line in enumerate(lines)]
    high = max(place.high, y - place.top + 15 * len(lines) + 6)
    whole = place._replace(high=high)
    return [_frame(whole, SHEET, INK), _text(place.left + 12, place.top + 20, group, bold=True), *chips, *told], high


def _in_lines(words: str, wide: float, size: float) -> list[str]:
    lines = [""]
    for word in words.split(" "):
        if lines[-1] and width(f"{lines[-1]} {word}", size) > wide:
            lines.append("")
        lines[-1] = f"{lines[-1]} {word}".strip()
    return lines


def _map_arrows(places: dict[str, Place], between: dict[tuple[str, str], list[str]]) -> Iterator[str]:
    stack = [group for group in GROUPS if group != REST]
    for group in stack:
        yield from _to_and_from_rest(places, group, between)
    for upper, lower in pairwise(stack):
        yield from _up_and_down(places, upper, lower, between)
    lane, taken = _STACK_LEFT + _STACK_WIDE + 24, dict.fromkeys(stack, 0)
    for (source, target), triggers in between.items():
        if REST in (source, target) or abs(stack.index(source) - stack.index(target)) < 2:
            continue
        words = _in_lines(", ".join(triggers), 84, 12)
        begin, end = places[source], places[target]
        y0, y1 = (place.top + 22 + 20 * taken[group] for place, group in ((begin, source), (end, target)))
        taken[source], taken[target] = taken[source] + 1, taken[target] + 1
        yield from _arrow([(begin.right, y0), (lane, y0), (lane, y1), (end.right, y1)], _COLOURS[target])
        middle = (y0 + y1) / 2 - 7 * (len(words) - 1)
        yield from [_text(lane + 7, middle + 14 * i, line, size=12) for i, line in enumerate(words)]
        lane += 14 + max(width(line, 12) for line in words)


def _to_and_from_rest(
    places: dict[str, Place], group: str, between: dict[tuple[str, str], list[str]]
) -> Iterator[str]:
    rest, other = places[REST], places[group]
    y = other.top + 30
    for source, target in ((REST, group), (group, REST)):
        triggers = between.get((source, target))
        if triggers is None:
            continue
        ends = [(rest.right, y), (other.left, y)]
        yield from _arrow(ends if source == REST else ends[::-1], _COLOURS[target])
        middle = (rest.right + other.left) / 2
        yield _text(middle, y - 6, ", ".join(triggers), size=12, anchor="middle")
        y += 32


def _up_and_down(
    places: dict[str, Place], upper: str, lower: str, between: dict[tuple[str, str], list[str]]
) -> Iterator[str]:
    above, below = places[upper], places[lower]
    x = above.left + 30
    for source, target in ((upper, lower), (lower, upper)):
        triggers = between.get((source, target))
        if triggers is None:
            continue
        ends = [(x, above.bottom), (x, below.top)]
        yield from _arrow(ends if source == upper else ends[::-1], _COLOURS[target])
        words = ", ".join(triggers)
        yield _text(x + 10, (above.bottom + below.top) / 2 + 4, words, size=12)
        x += 40 + width(words, 12)


# the ladder

_RAIL_HIGH: Final = 28.0
_HEAD_HIGH: Final = 112.0
_LADDER_LEFT: Final = 262.0


def _ladder(top: float) -> tuple[list[str], float]:
    """A rail for each state, an upright for each trigger; returns where it ends."""
    pitch = (WIDE - MARGIN - 70 - _LADDER_LEFT) / len(ROWS)
    rails, parts = {}, [_text(MARGIN, top + 6, "Every way", size=16, bold=True)]
    parts += _legend(top + 30)
    y = top + _HEAD_HIGH
    for group, states in GROUPS.items():
        y += 26
        parts.append(_text(MARGIN, y, group, size=12, colour=SOFT, bold=True))
        for state in states:
            y += _RAIL_HIGH
            rails[state] = y - 4
            right = _LADDER_LEFT + pitch * (len(ROWS) - 1) + 14
            parts.append(_line([(_LADDER_LEFT - 18, y - 4), (right, y - 4)], RULE, 1.0))
            parts.append(_text(MARGIN + 12, y, state.value))
    for column, (trigger, sources, target) in enumerate(ROWS):
        x = _LADDER_LEFT + pitch * column
        parts += _upright(
            x, top + _HEAD_HIGH + 8, trigger, [rails[source] for source in sources], rails[target], target
        )
    return parts, y + 8


def _legend(y: float) -> list[str]:
    x = MARGIN + 6
    return [
        _ring(x, y, INK),
        _text(x + 12, y + 4, "may be taken here", size=12, colour=SOFT),
        _disc(x, y + 20, INK),
        _text(x + 12, y + 24, "leads here", size=12, colour=SOFT),
    ]


def _ring(x: float, y: float, colour: str) -> str:
    return f'<circle cx="{x:g}" cy="{y:g}" r="4.2" fill="{SHEET}" stroke="{colour}" stroke-width="1.6"/>'


def _disc(x: float, y: float, colour: str) -> str:
    return f'<circle cx="{x:g}" cy="{y:g}" r="5.4" fill="{colour}"/>'


def _upright(x: float, top: float, trigger: str, sources: list[float], target: float, leads_to: State) -> list[str]:
    colour = DANGER if leads_to is State.HALTED else _COLOURS[_group_of(leads_to)]
    first = min(*sources, target)
    parts = [
        f'<text transform="translate({x + 4:g} {top:g}) rotate(-55)" font-size="12">{escape(trigger)}</text>',
        _line([(x, top + 6), (x, first)], RULE, 0.8),
        _line([(x, first), (x, max(*sources, target))], colour, 1.8),
    ]
    parts += [_ring(x, y, colour) for y in sources]
    parts.append(_disc(x, target, colour))
    if min(sources) < target:
        parts.append(_head((x, target - 4), (0, 1), colour))
    if max(sources) > target:
        parts.append(_head((x, target + 4), (0, -1), colour))
    return parts
