"""When an action is asked about first: the catalogue's own cautions, and those that bite only as things stand.

The sentences that are not in the catalogue restate facts section 10 (isolate and prove dead, meter discipline,
raising effort, a released leaf).
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from sim.instruments.cautions import BOARD_OFF, DEAD_ONLY, LIVE_WORK
from sim.world.actions import CATALOGUE
from trainer.language import _

if TYPE_CHECKING:
    from trainer.session.view import View

ONCE: Final = frozenset({"jog press"})
"""Asked about only the first time: a hold-to-run control can't be held through a question."""


def caution_for(kind: str, arguments: Mapping[str, object], view: View) -> str:
    """What has to be said before the action, else empty."""
    entry = CATALOGUE[kind]
    if kind == "swap motor leads" and not (view.mains_on or view.battery_linked):
        return ""
    if entry.caution:
        return _(entry.caution)
    if kind in ("measure", "place instrument"):
        return _before_measuring(arguments, view)
    if kind in ("place probes", "test dead"):
        return _before_probing(kind, arguments, view)
    if kind == "set" and str(arguments.get("setting", "")).startswith("motor effort"):
        return _before_effort(arguments, view)
    return ""


def _before_measuring(arguments: Mapping[str, object], view: View) -> str:
    """The instrument's own caution, where it bites: on what may be live, with the board connected, or always."""
    held = view.tools.instrument(str(arguments.get("instrument", "")))
    functions = held.functions if held is not None else ()
    told = next((each.caution for each in functions if each.name == arguments.get("function")), "")
    touched = {arguments.get("at"), arguments.get("against")}
    if told in (LIVE_WORK, DEAD_ONLY):
        bites = any(terminal.live for terminal in view.terminals if terminal.name in touched)
    elif told == BOARD_OFF:
        bites = any(core.run.endswith(" plug") and core.closed for core in view.wiring.cores)
    else:
        bites = True
    return _(told) if bites else ""


def _before_probing(kind: str, arguments: Mapping[str, object], view: View) -> str:
    touched = {arguments.get("red"), arguments.get("black")}
    live = any(terminal.live for terminal in view.terminals if terminal.name in touched)
    if not live:
        return ""
    if kind == "place probes" and arguments.get("function") in ("ohms", "continuity"):
        return _("Ohms belong on dead circuits only: isolate both sources and prove dead first.")
    return _("This place may be live. Right function, sound leads, one hand, nothing else within reach.")


def _before_effort(arguments: Mapping[str, object], view: View) -> str:
    row = next((row for row in view.settings if row.name == arguments.get("setting")), None)
    try:
        raised = row is not None and float(str(arguments["value"])) > float(row.value)
    except (KeyError, ValueError):
        return ""
    if not raised:
        return ""
    return _(
        "More effort never cures a bad hinge, wind or friction; it hurts more when it meets someone. "
        "Every force reading taken so far goes stale."
    )
