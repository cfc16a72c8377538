"""What follows from a survey: what must protect these users, which guards are to be proved, and what doesn't fit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import reduce
from typing import TYPE_CHECKING, Final

from sim.controller.ports import GUARD_TERMINALS
from trainer.language import _
from trainer.window.kit.label import Item, Paragraph
from trainer.window.kit.style import GO, SMALL, SOFT, STOP, WARN
from trainer.window.kit.widget import Widget
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import View

ALWAYS: Final = ("stop circuit",)
"""A gate has it whatever the hazards are."""


def follows_of(view: View) -> list[Widget]:
    """The lines, in the order in which one goes on: what is wrong first, then what is to be shown."""
    return [*_findings(view), *_proofs(view), *_needs(view)]


def guards_at(view: View, guard: str) -> list[str]:
    """Hazards that a guard protects people from, as the survey was written."""
    return [row.hazard for row in view.survey if guard in row.protection]


def _declared(view: View) -> dict[str, bool]:
    """Which guards the sheet has as fitted."""
    return {row.name: row.value != "not fitted" for row in view.settings if row.name in GUARD_TERMINALS}


def _findings(view: View) -> Iterator[Widget]:
    """A hazard without a guard and a guard without a hazard are both findings."""
    for row in view.survey:
        if row.protection == "nothing":
            told = _("Nothing protects here: {hazard}. That is a finding.")
            yield Item(told.format(hazard=_(row.hazard)), "⊘", STOP, size=SMALL)
    declared = _declared(view)
    for guard in GUARD_TERMINALS:
        named = guards_at(view, guard)
        if named and not declared.get(guard, True):
            told = _("{guard}: protection by the survey, and not fitted by the sheet.")
            yield Item(told.format(guard=first_upper(_(guard))), "⚠", WARN, size=SMALL)
    if view.survey and all(row.protection for row in view.survey):
        for guard in GUARD_TERMINALS:
            if declared.get(guard) and guard not in ALWAYS and not guards_at(view, guard):
                told = _("{guard}: fitted by the sheet, and no hazard of the survey asks for it.")
                yield Item(told.format(guard=first_upper(_(guard))), "⚠", WARN, size=SMALL)


def _proofs(view: View) -> Iterator[Widget]:
    for guard in GUARD_TERMINALS:
        named = guards_at(view, guard)
        if named:
            told = _("To be proved: {guard}, for {hazards}.")
            yield Item(told.format(guard=_(guard), hazards="; ".join(map(_, named))), "→", GO, size=SMALL)


def _needs(view: View) -> Iterator[Widget]:
    if view.needs:
        yield Paragraph(_("For these users the closing edge needs, by how the gate is set going:"), size=SMALL)
    for way, enough in view.needs:
        ways = [_joined(levels, _("{one} with {other}")) for levels in enough]
        told = _joined(ways, _("{one}, or {other}")) or _("not allowed")
        line = _("{way}: {levels}").format(way=first_upper(_(way)), levels=told)
        yield Item(line, "·" if enough else "⊘", SOFT, size=SMALL)


def _joined(parts: Sequence[str], two: str) -> str:
    """Parts put together two by two, as the language does it."""
    return reduce(lambda one, other: two.format(one=one, other=other), map(_, parts)) if parts else ""
