"""Survey, notebook, predictions, and the two endings."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.world.actions import Action
from sim.world.effects.effect import Effect

if TYPE_CHECKING:
    from sim.world.world import World


def _hazard(world: World, action: Action) -> str:
    world.survey[str(action["hazard"])] = str(action["protection"])
    return f"{action['hazard']}: {action['protection']}."


def _hazard_ready(world: World, action: Action) -> None:
    known = [hazard.hazard for hazard in world.site.hazards]
    if action["hazard"] not in known:
        raise Refused(f"the survey of this site has no line '{action['hazard']}'; it has: {'; '.join(known)}")


def _group(world: World, action: Action) -> str:
    world.user_group = str(action["group"])
    return f"User group: {action['group']}."


def _note(world: World, action: Action) -> str:
    world.tell("note", str(action["text"]), text=str(action["text"]))
    return "Written down."


def _predict(world: World, action: Action) -> str:
    text = f"expected: {action['question']}: {action['answer']}"
    world.tell("note", text, text=text, question=str(action["question"]), answer=str(action["answer"]))
    return "Noted. Now see."


def _cordon(world: World, action: Action) -> str:
    world.cordoned = True
    return "Barriers and signs stand round the arc."


def _uncordon(world: World, action: Action) -> str:
    world.cordoned = False
    return "The barriers are away."


def _hand_over(world: World, action: Action) -> str:
    world.ended = "handed over"
    return "Handed over: shown, signed, papers given."


def _make_safe(world: World, action: Action) -> str:
    world.cabinet.isolate()
    world.host.rewired()
    world.notices.power_changed()
    world.ended = "made safe"
    return "Made safe, not repaired: isolated and locked off, notice up, owner told in writing, return booked."


EFFECTS = {
    "survey hazard": Effect(_hazard, _hazard_ready),
    "state user group": Effect(_group),
    "note": Effect(_note),
    "predict": Effect(_predict),
    "cordon": Effect(_cordon),
    "remove cordon": Effect(_uncordon),
    "hand over": Effect(_hand_over),
    "make safe": Effect(_make_safe),
}
