"""Releasing, pushing and engaging leaves by hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.said import begun, said
from sim.world.actions import Action
from sim.world.effects.effect import Effect, leaf_of

if TYPE_CHECKING:
    from sim.world.world import World


def _release(world: World, action: Action) -> str:
    world.plant.release(leaf_of(action))
    return said("The {leaf} leaf's drive is released: the leaf swings free.", leaf=action["leaf"])


def _engage(world: World, action: Action) -> str:
    world.plant.engage(leaf_of(action))
    return said("The {leaf} leaf's drive is engaged.", leaf=action["leaf"])


def _push(world: World, action: Action) -> str:
    leaf, name = leaf_of(action), str(action["leaf"])
    reached, force, touched = world.people.push_leaf(leaf, float(action["to_deg"]))
    text = _pushed(name, reached, force, touched)
    world.tell(
        "reading",
        text,
        instrument="spring scale",
        red=f"{name} leaf",
        black="",
        function="push",
        value=round(force, 1),
        unit="N",
        text=text,
        leaf=name,
        angle_deg=round(reached, 1),
        touched=touched,
        free=not world.plant.engaged(leaf),
    )
    world.notices.leaves_looked_at()
    if world.plant.engaged(leaf) and not touched and force >= 60:
        return said("It hardly moves ({angle_deg:.0f}°): the drive is engaged.", angle_deg=reached)
    return said("{sentence}.", sentence=begun(text))


def _pushed(name: str, reached: float, force: float, touched: str) -> str:
    if not touched:
        return said(
            "{leaf} leaf pushed to {angle_deg:.0f}°, {force_n:.0f} N at the tip",
            leaf=name,
            angle_deg=reached,
            force_n=force,
        )
    return said(
        "{leaf} leaf pushed to {angle_deg:.0f}°, {force_n:.0f} N at the tip and found its {touched}"
        if touched in ("open stop", "closed stop")
        else "{leaf} leaf pushed to {angle_deg:.0f}°, {force_n:.0f} N at the tip and met the {touched}",
        leaf=name,
        angle_deg=reached,
        force_n=force,
        touched=touched,
    )


def _engaged(wanted: bool, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        if world.plant.engaged(leaf_of(action)) is not wanted:
            raise Refused(said(sentence, leaf=action["leaf"]))

    return ready


def _can_release(world: World, action: Action) -> None:
    _engaged(True, "the {leaf} leaf's drive is released already")(world, action)
    if world.site.drives.pair[leaf_of(action)].release_key == "missing":
        raise Refused(
            said("the release of the {leaf} leaf's drive takes a key, and the key is missing", leaf=action["leaf"])
        )


def _hands_off(world: World, action: Action) -> None:
    if world.notices.moving():
        raise Refused(
            said(
                "the gate is {moving} under power; nobody pushes the {leaf} leaf now",
                moving=world.notices.moving(),
                leaf=action["leaf"],
            )
        )


EFFECTS = {
    "release drive": Effect(_release, _can_release),
    "engage drive": Effect(_engage, _engaged(False, "the {leaf} leaf's drive is engaged already")),
    "push leaf": Effect(_push, _hands_off),
}
