"""The expert's way beside what was done: both lists of acts, laid next to each other where they agree.

The expert's way is the job's own reference solution for the same draw. Waiting, and letting go of what was pressed,
are left out of both; where exactly somebody put a body or how far a leaf was pushed makes no other act of it.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from typing import Final

from sim.said import Verbatim, joined
from sim.world.actions import Action, Value
from trainer.grading.story import OWN_WORDS, Deed, Story
from trainer.session.lookback import Kind, WayRow

NO_ACT: Final = frozenset({"wait", "wait until", "release", "jog release", "release transmitter"})
"""Needed for time to pass or for a hand to be free again; they say nothing about the way."""

HOWEVER: Final = frozenset({"to_deg", "x_m", "y_m", "turn_deg", "text", "reason"})
"""Arguments that may differ in acts that are the same."""

UNSAID: Final = frozenset({"to_deg", "x_m", "y_m", "turn_deg"})
"""Of these, what is left out where an act is told: where exactly it was."""


def way(story: Story, solution: Iterable[Action]) -> tuple[WayRow, ...]:
    """Rows in the order of both lists; empty where the job has no solution of its own."""
    expert = [action for action in solution if action.kind not in NO_ACT]
    if not expert:
        return ()
    done = [deed for deed in story.deeds if deed.kind not in NO_ACT]
    ours, theirs = [_same(deed.entry.action) for deed in done], [_same(action) for action in expert]
    rows: list[WayRow] = []
    a = b = 0
    for x, y in [*_agreeing(theirs, ours), (len(theirs), len(ours))]:
        rows += [_missing(expert[n], done, ours) for n in range(a, x)]
        rows += [_row("at another time" if ours[n] in theirs else "besides", "", done[n]) for n in range(b, y)]
        if x < len(theirs):
            rows.append(_row("both", _said(expert[x]), done[y]))
        a, b = x + 1, y + 1
    return tuple(rows)


def _agreeing(one: Sequence[Hashable], other: Sequence[Hashable]) -> list[tuple[int, int]]:
    """Places in both lists of their longest common part that keeps its order in both (by the usual table)."""
    longest = [[0] * (len(other) + 1) for _ in range(len(one) + 1)]
    for a in reversed(range(len(one))):
        for b in reversed(range(len(other))):
            same = one[a] == other[b]
            longest[a][b] = longest[a + 1][b + 1] + 1 if same else max(longest[a + 1][b], longest[a][b + 1])
    found, a, b = [], 0, 0
    while a < len(one) and b < len(other):
        if one[a] == other[b]:
            found.append((a, b))
            a, b = a + 1, b + 1
        elif longest[a + 1][b] >= longest[a][b + 1]:
            a += 1
        else:
            b += 1
    return found


def _same(action: Action) -> Hashable:
    """What makes two acts the same."""
    return action.kind, tuple(sorted((k, str(v)) for k, v in action.arguments.items() if k not in HOWEVER))


def _missing(action: Action, done: Sequence[Deed], ours: Sequence[Hashable]) -> WayRow:
    same = _same(action)
    if same not in ours:
        return WayRow("left out", _said(action), "")
    there = done[ours.index(same)]
    return WayRow("at another time", _said(action), "", there.entry.line, there.entry.at)


def _row(kind: Kind, expert: str, deed: Deed) -> WayRow:
    return WayRow(kind, expert, _said(deed.entry.action), deed.entry.line, deed.entry.at)


def _said(action: Action) -> str:
    """An act as a list tells it: `set: outer beam, reopen`."""
    told = [_value(name, value) for name, value in action.arguments.items() if name not in UNSAID]
    return joined([action.kind, joined(filter(None, told), ", ")], ": ") if any(told) else action.kind


def _value(name: str, value: Value) -> str:
    if isinstance(value, bool):
        return name.replace("_", " ") if value else ""
    if name in OWN_WORDS:
        return Verbatim(value)
    return f"{value:g}" if isinstance(value, float) else str(value)
