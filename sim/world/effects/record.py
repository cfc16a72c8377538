"""Survey, notebook, predictions, and the two endings."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from sim.errors import Refused, nearest_right
from sim.faults.catalogue import FAULTS
from sim.said import Verbatim, joined, said
from sim.units import Us
from sim.world.actions import CATALOGUE, Action
from sim.world.catalogue.survey import HINT
from sim.world.effects.effect import Effect
from sim.world.notebook import NO_FAULT, Written

if TYPE_CHECKING:
    from sim.world.world import World


def _hazard(world: World, action: Action) -> str:
    world.survey[str(action["hazard"])] = str(action["protection"])
    return said("{hazard}: {protection}.", hazard=action["hazard"], protection=action["protection"])


def _hazard_ready(world: World, action: Action) -> None:
    known = [hazard.hazard for hazard in world.site.hazards]
    if action["hazard"] not in known:
        raise Refused(
            said(
                "the survey of this site has no line '{hazard}'; it has: {known}",
                hazard=action["hazard"],
                known=joined(known, "; "),
            )
        )


def _group(world: World, action: Action) -> str:
    world.user_group = str(action["group"])
    return said("User group: {group}.", group=action["group"])


def _note(world: World, action: Action) -> str:
    text, entry = Verbatim(str(action["text"])), cast(Written, action["entry"])
    # What was seen is told as notes always were: an older journal's replay must come out the same.
    world.tell("note", text, text=text, **({} if entry == "seen" else {"entry": entry}))
    world.notebook.add(_since_arrival(world), text, entry)
    return said("Written down.")


def _change_note(world: World, action: Action) -> str:
    number, text, entry = int(action["number"]), Verbatim(str(action["text"])), cast(Written, action["entry"])
    world.notebook.rewrite(number, _since_arrival(world), text, entry)
    world.tell(
        "note",
        said("note {number} written anew: {text}", number=number, text=text),
        text=text,
        entry=entry,
        number=number,
    )
    return said("Written anew.")


def _strike_note(world: World, action: Action) -> str:
    number = int(action["number"])
    text = world.notebook.by_hand(number).text
    world.notebook.strike(number, _since_arrival(world))
    world.tell(
        "note",
        said("note {number} struck out: {text}", number=number, text=text),
        text=text,
        number=number,
        struck=True,
    )
    return said("Struck out; it stays readable.")


def _note_there(world: World, action: Action) -> None:
    world.notebook.by_hand(int(action["number"]))


def write_down(world: World, text: str, **data: str) -> None:
    """What an act writes into the notebook by itself; it is told as a note."""
    world.tell("note", text, text=text, **data)
    world.notebook.add(_since_arrival(world), text)


def _since_arrival(world: World) -> Us:
    """Now, as people's watches count it [µs since arrival]."""
    return Us(world.now - world.arrived)


def _known_cause(world: World, action: Action) -> None:
    cause = str(action["cause"])
    if cause != NO_FAULT and cause not in FAULTS:
        hint = nearest_right(cause, (NO_FAULT, *FAULTS))
        raise Refused(said("there is no fault '{cause}' in the catalogue{hint}", cause=cause, hint=hint))


def _conclude(world: World, action: Action) -> str:
    cause, sure = str(action["cause"]), int(action["sure"])
    told = said("concluded: {cause}, {sure} % sure", cause=cause, sure=sure)
    world.tell("note", told, text=told, cause=cause, sure=sure)
    world.notebook.conclude(_since_arrival(world), cause, sure)
    return said("Concluded: {cause}.", cause=cause)


def _was_concluded(world: World, action: Action) -> None:
    held = [each.cause for each in world.notebook.conclusions]
    if action["cause"] not in held:
        raise Refused(said("'{cause}' was not concluded", cause=action["cause"]))


def _take_back(world: World, action: Action) -> str:
    cause = str(action["cause"])
    told = said("no longer concluded: {cause}", cause=cause)
    world.tell("note", told, text=told, cause=cause, sure=0)
    world.notebook.take_back(cause)
    return said("Taken back: {cause}.", cause=cause)


def _hint(world: World, action: Action) -> str:
    number, words = 1 + sum(event.kind == "hint" for event in world.events), Verbatim(str(action["words"]))
    world.tell("hint", words, number=number)
    write_down(world, said("hint {number}: {words}", number=number, words=words))
    return words


def _acted_since(world: World, action: Action) -> None:
    for entry in reversed(world.entries):
        if entry.action.kind == HINT:
            raise Refused(said("act on the last hint first: try something or measure something, then ask again"))
        if CATALOGUE[entry.action.kind].group not in ("record", "time"):
            return


def _predict(world: World, action: Action) -> str:
    text = said("expected: {question}: {answer}", question=action["question"], answer=action["answer"])
    write_down(world, text, question=str(action["question"]), answer=str(action["answer"]))
    return said("Noted. Now see.")


def _cordon(world: World, action: Action) -> str:
    world.cordoned = True
    return said("Barriers and signs stand round the arc.")


def _uncordon(world: World, action: Action) -> str:
    world.cordoned = False
    return said("The barriers are away.")


def _hand_over(world: World, action: Action) -> str:
    world.ended = "handed over"
    return said("Handed over: shown, signed, papers given.")


def _make_safe(world: World, action: Action) -> str:
    if world.cabinet.mains_on:
        world.cabinet.isolate()
    world.host.rewired()
    world.notices.power_changed()
    world.ended = "made safe"
    return said("Made safe, not repaired: isolated and locked off, notice up, owner told in writing, return booked.")


EFFECTS = {
    "survey hazard": Effect(_hazard, _hazard_ready),
    "state user group": Effect(_group),
    "note": Effect(_note),
    "change note": Effect(_change_note, _note_there),
    "strike note": Effect(_strike_note, _note_there),
    "conclude": Effect(_conclude, _known_cause),
    "take back conclusion": Effect(_take_back, _was_concluded),
    HINT: Effect(_hint, _acted_since),
    "predict": Effect(_predict),
    "cordon": Effect(_cordon),
    "remove cordon": Effect(_uncordon),
    "hand over": Effect(_hand_over),
    "make safe": Effect(_make_safe),
}
