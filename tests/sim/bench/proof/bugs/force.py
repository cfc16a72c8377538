"""Controllers that push too hard, learn too boldly, or keep hold of what they met."""

from __future__ import annotations

from sim.controller import guards, motion, moving, reacting
from sim.controller.obstacle import RATED_A
from sim.controller.reference import ReferenceController
from sim.controller.sheet import number
from sim.controller.turn import Turn


def _of_the_other_way(turn: Turn, direction: int, most: float = 100.0) -> float:
    return _effort_a(turn, -direction, most)


_effort_a = motion.effort_a


class TakesTheOtherWaysEffort(ReferenceController):
    """It closes with the effort that the sheet sets for opening, and the other way round."""

    breaks, within = "pushes no harder than the sheet says", 10
    instead = (("sim.controller.motion:effort_a", _of_the_other_way),)


def _all_of_the_sheet(turn: Turn, direction: int, most: float = 100.0) -> float:
    name = "motor effort, opening" if direction > 0 else "motor effort, closing"
    return number(turn.sheet, name) / 100.0 * RATED_A


class LearnsBoldly(ReferenceController):
    """It learns with all the effort that the sheet sets."""

    breaks, within = "learning pushes gently", 10
    instead = (("sim.controller.motion:effort_a", _all_of_the_sheet),)


def _keep(turn: Turn) -> None:
    """Forget nothing."""


class KeepsWhatItHadLearned(ReferenceController):
    """When its learning is ended early it goes on with what it knew before."""

    breaks, within = "learning ends on a guard and keeps nothing", 20
    instead = (("sim.controller.learning:forget", _keep),)


def _heeds_edges_alone(turn: Turn) -> None:
    if any(index in guards.EDGES for index in guards.not_clear(turn.sheet, turn.memory.guards, 0)):
        _while_learning(turn)


_while_learning = reacting._while_learning


class LearnsPastABeam(ReferenceController):
    """Beams mean nothing to it while it learns."""

    breaks, within = "learning ends on a guard and keeps nothing", 20
    instead = (("sim.controller.reacting:_while_learning", _heeds_edges_alone),)


def _frees_nothing(turn: Turn) -> bool:
    return False


class HaltsOnWhatItPresses(ReferenceController):
    """The stop circuit halts it at once, though a leaf presses on somebody."""

    breaks, within = "a contact leaves no lasting force", 30
    instead = (("sim.controller.reacting:_frees_first", _frees_nothing),)


def _only_stops(turn: Turn, index: int, met: motion.Met) -> None:
    turn.memory.waits_for_command = True
    moving.stop(turn, met.value, brake=True)


class StopsOnWhatItMeets(ReferenceController):
    """What it notices by effort stops it, and it stays where it is."""

    breaks, within = "goes back from what it meets", 10
    instead = (("sim.controller.moving:_meet", _only_stops),)


def _meets_nothing(turn: Turn, index: int) -> bool:
    return False


class FeelsNoEffort(ReferenceController):
    """Effort above what was learned means nothing to it, and it waits two seconds for a leaf that stands."""

    breaks, within = "a motor that stands is let go", 10
    instead = (("sim.controller.obstacle:is_met", _meets_nothing), ("sim.controller.motion:STALL", 3_000_000))
