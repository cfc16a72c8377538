"""Which lines of a journal still count, and which belong to a past that was left.

Nothing is ever taken out of a journal. Going on from an earlier time writes a `branch` line that names the last
line that still counts; the lines between are an abandoned branch. They stay to be shown, and in an assessed
attempt to be graded.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from sim.units import Us
from trainer.session.lines import Line
from trainer.session.lookback import LeftView


def living(lines: Iterable[Line]) -> list[Line]:
    """The lines that lead to the present, in order; `branch` lines among them."""
    kept: list[Line] = []
    for line in lines:
        if line.kind == "branch":
            last = int(line.data["kept"])
            while kept and kept[-1].number > last:
                kept.pop()
        kept.append(line)
    return kept


def abandoned(lines: Iterable[Line]) -> list[list[Line]]:
    """Each past that was left, in the order in which it was left; a line belongs to one of them only."""
    kept: list[Line] = []
    left: list[list[Line]] = []
    for line in lines:
        if line.kind == "branch":
            last = int(line.data["kept"])
            keep = next((i for i, one in enumerate(kept) if one.number > last), len(kept))
            if kept[keep:]:
                left.append(kept[keep:])
            del kept[keep:]
        kept.append(line)
    return left


def left_behind(lines: Iterable[Line], arrived: Us) -> tuple[LeftView, ...]:
    """Each past that was left, as a debrief tells it, in the order in which it was left; times since arrival."""
    kept: list[Line] = []
    found: list[LeftView] = []
    for line in lines:
        if line.kind == "branch":
            left = [one for one in kept if one.number > int(line.data["kept"])]
            kept = [one for one in kept if one.number <= int(line.data["kept"])]
            if left:
                until = max(one.at for one in left)
                acts = sum(one.kind == "action" for one in left)
                found.append(LeftView(Us(line.at - arrived), Us(until - arrived), acts))
        kept.append(line)
    return tuple(found)


def last_before(lines: Sequence[Line], target: Us) -> int:
    """Number of the last line that still counts when going on from `target`: an act begun there is not done yet."""
    kept = lines[0].number
    for line in lines:
        if line.at > target or line.kind == "end" or (line.kind == "action" and line.at == target):
            break
        kept = line.number
    return kept
