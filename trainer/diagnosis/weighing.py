"""What each step of an attempt was worth, in words for a debrief."""

from __future__ import annotations

from sim.bench.fault_seen import CYCLED, EYES, RADIO, SHEET, TRIPPED
from sim.bench.fault_sweep import Column
from sim.said import joined, said
from sim.world.actions import Action
from sim.world.history import History
from trainer.diagnosis.belief import NAMES_IT, Made, Repaired
from trainer.diagnosis.hints import READY, at_place
from trainer.diagnosis.reckoner import Reckoner
from trainer.session.worth import MadeRow, RepairRow, WorthView


def weighed(reckoner: Reckoner, history: History) -> WorthView:
    """Every measurement and look against the best there was then, every repair against what was known."""
    course = reckoner.course(history)
    acts = {(entry.line, entry.at, entry.action.kind): entry.action for entry in history.entries}
    return WorthView(
        "there",
        made=tuple(_made(each) for each in course.made),
        repaired=tuple(_repaired(each, acts[each.line, each.at, each.act]) for each in course.repaired),
    )


def _made(made: Made) -> MadeRow:
    best = "" if made.best in made.columns else named(made.best)
    what = _together(made.columns)
    return MadeRow(made.line, made.at, what, made.information_bit, made.told_bit, made.best_bit, best)


def _repaired(repaired: Repaired, act: Action) -> RepairRow:
    things = [str(act[name]) for name in NAMES_IT if name in act.arguments]
    what = joined([act.kind, joined(things, ", ")], ": ") if things else act.kind
    return RepairRow(repaired.line, repaired.at, what, repaired.causes, 100.0 * repaired.belief)


def _together(columns: tuple[Column, ...]) -> str:
    """What one act showed: the whole sheet, where it was read as one."""
    if len(columns) > 1 and columns[0][2] == SHEET:
        return said("what stands on the sheet")
    return named(columns[0])


def named(column: Column) -> str:
    """A measurement or a look as a list names it."""
    state, instrument, function, at, against = column
    if instrument == EYES:
        return _look(function, at)
    through = said("through an opening and a closing") if state == CYCLED else ""
    return joined(filter(None, (instrument, function, at_place(at, against), READY.get(state, ""), through)), ", ")


def _look(function: str, at: str) -> str:
    if function == SHEET:
        return said("what stands on the sheet for {setting}", setting=at)
    if function == TRIPPED:
        return said("{guard}, tripped by hand while the gate rests", guard=at)
    if function == RADIO:
        return said("{transmitter}, pressed close by", transmitter=at)
    if function == "opening":
        return said("watching it open from shut")
    return said("watching it close after an opening")
