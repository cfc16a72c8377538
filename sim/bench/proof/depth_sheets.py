"""The sheets that are searched to a depth, each on a gate of its own; on as many processors as there are.

A sheet differs from the defaults in what changes how the gate reacts. The reference controller and whatever is made
of it are found with their travel learned, a transmitter enrolled, and the sheet written. A stranger gets its
terminals and nothing else.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Mapping
from concurrent.futures import ProcessPoolExecutor
from dataclasses import fields
from functools import partial
from multiprocessing import get_context
from types import MappingProxyType
from typing import Any, Final

from sim.bench.line_gate import LineGate
from sim.bench.line_leaf import LineLeaf
from sim.bench.proof.depth import Search
from sim.bench.proof.depth_report import Bounds, Report
from sim.bench.proof.essence import NOTHING
from sim.bench.proof.moves import Move, scope_of, tap
from sim.bench.proof.record import DECLARED
from sim.bench.proof.watching import held_controls
from sim.controller.memory import KEPT, KEPT_OF_LEAF, Leaf, Memory
from sim.controller.ports import Controller
from sim.controller.reference import ReferenceController
from sim.controller.settings import Value
from sim.errors import ActionError, nearest_right

Sheet = Mapping[str, Value]

SHEETS: Final[Mapping[str, Sheet]] = MappingProxyType(
    {
        "as it leaves the works": {},
        "closes by itself": {"auto-close": "on", "auto-close after": 5, "auto-close after a passage": 2},
        "beams that halt and back off": {"outer beam": "halt", "inner beam": "back off"},
        "beams that hold and reopen, edges that reopen": {
            **{"outer beam": "hold", "inner beam": "reopen", "auto-close": "on", "auto-close after": 5},
            **{"active edge": "reopen", "inactive edge": "reopen"},
        },
        "hold-to-run": {"key switch": "hold-to-run open", "open and close buttons": "hold-to-run"},
        "electric lock": {"electric lock": "fitted"},
        "leaf delays": {"leaf delay, opening": 3, "leaf delay, closing": 6, "opens first": "inactive"},
        "one leaf": {"leaves fitted": "1", "inactive edge": "not fitted"},
    }
)
"""Name: settings that differ from the defaults."""

MAIN: Final = "as it leaves the works"

_TRUE: Final[Sheet] = {"leaves fitted": "2", "drive kind": "linear ram", "opens first": "active", "slow speed": 35}
"""What the sheet says of every gate here; without a train behind them the leaves move as fast as they are driven."""

SERIAL: Final = "one"
HOLDER: Final = "somebody"

OUR_NUMBERS: Final = frozenset(
    {
        *("sheet", "notes", "note_count", "message", "answer", "accepted", "heard", "counters", "by"),
        *("at", "let_go_at", "guard_volts", "command_volts", "supply_v", "kept_position", "origin", "travel"),
        *(
            "opening_load",
            "closing_load",
            "new_opening_load",
            "new_closing_load",
            "target",
            "start_count",
            "other_at",
        ),
        *("effort_a", "slew_per_s", "runs", "driven_since", "counted", "counted_since"),
    }
)
"""What of the reference controller's memory doesn't decide what comes, or only by how much: the duty of its motors
and the days of its clock are far longer than any run here."""


OUR_LOST: Final = frozenset(field.name for kind in (Memory, Leaf) for field in fields(kind)) - {*KEPT, *KEPT_OF_LEAF}
"""What of it is gone without power."""


def found_gate(make: Callable[[], Controller] = ReferenceController, sheet: Sheet | None = None) -> LineGate:
    """A gate at rest and shut, with a controller of this make; a kind of the reference controller is set up."""
    maker = make()
    if not isinstance(maker, ReferenceController):
        gate = LineGate(controller=maker, leaves=(LineLeaf(offset=40, shown=40), LineLeaf(offset=-7, shown=-7)))
        gate.run(2.0)
        return gate
    gate = _set_up(dict(sheet or {}))
    maker.restore(_without_log(gate.controller.state()))  # type: ignore[attr-defined]
    gate.controller = maker
    return gate


def _without_log(state: dict[str, Any]) -> dict[str, Any]:
    """A state whose log begins anew: it decides nothing, and would be kept with every situation."""
    return {**state, "notes": [], "radio": {**state["radio"], "heard": []}}


def _set_up(sheet: dict[str, Value]) -> LineGate:
    """As a good installer leaves it; with the reference controller itself, so that a bug can't spoil the set-up."""
    places = (500.0, 0.0 if sheet.get("leaves fitted") == "1" else 420.0)
    leaves = [LineLeaf(at, offset=off, shown=off + int(at)) for at, off in zip(places, (40, -7), strict=True)]
    gate = LineGate(leaves=(leaves[0], leaves[1]), scans_when_dead=True)
    gate.run(1.0)
    gate.write({**_TRUE, **sheet})
    gate.ask("learn")
    gate.until_shown(lambda shown: shown.message.startswith("learning finished"), 400.0)
    gate.ask("enrol", HOLDER, "step")
    gate.press_transmitter(SERIAL)
    gate.run(2.0)
    return gate


def cycle(sheet: Sheet) -> tuple[tuple[Move, ...], ...]:
    """What somebody does who opens the gate and closes it again, and otherwise lets it be."""
    opening, closing = tap("open button"), tap("close button")
    if held_controls(sheet) & {"open button", "close button"}:
        return opening[:1], (opening[1], closing[0]), closing[1:]
    return opening, closing


def search_sheet(
    name: str = MAIN,
    bounds: Bounds | None = None,
    make: Callable[[], Controller] = ReferenceController,
    requests: tuple[str, ...] = (),
) -> Report:
    """Search one sheet of `SHEETS`; for a stranger, who has no sheet, what the guards do is taken from `DECLARED`.

    `requests`: kinds of requests at the service panel that are tried as well, such as `learn`. Raises ActionError for
    a sheet that isn't there.
    """
    if name not in SHEETS:
        raise ActionError(f"there is no sheet '{name}' to search{nearest_right(name, SHEETS)}")
    gate = found_gate(make, SHEETS[name])
    ours = isinstance(gate.controller, ReferenceController)
    sheet = {**DECLARED, **gate.controller.panel().settings}
    search = Search(
        gate,
        sheet,
        without=OUR_NUMBERS if ours else NOTHING,
        lost=OUR_LOST if ours else NOTHING,
        scope=scope_of(sheet, SERIAL if ours else "", requests),
    )
    return search.run(cycle(sheet), bounds or Bounds())


def search_sheets(
    names: Iterable[str] = SHEETS,
    bounds: Bounds | None = None,
    make: Callable[[], Controller] = ReferenceController,
    workers: int | None = None,
) -> dict[str, Report]:
    """Search several sheets, each in a process of its own. `make` must be importable by its name."""
    wanted = list(names)
    count = workers or os.cpu_count() or 1
    if count == 1:
        return {name: search_sheet(name, bounds, make) for name in wanted}
    with ProcessPoolExecutor(min(count, len(wanted)), mp_context=get_context("spawn")) as pool:
        reports = pool.map(partial(search_sheet, bounds=bounds, make=make), wanted)
        return dict(zip(wanted, reports, strict=True))
