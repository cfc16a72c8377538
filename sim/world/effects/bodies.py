"""Bodies on the plan, things in hinge gaps, cards before beams, fingers on edges."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.mechanics.yard import Body
from sim.said import joined, said
from sim.world.actions import Action
from sim.world.beams import BEAMS
from sim.world.effects.effect import Effect, leaf_of
from sim.world.people import EDGES
from sim.world.walks import path_of

if TYPE_CHECKING:
    from sim.world.world import World


def _body(action: Action) -> Body:
    place = float(action["x_m"]), float(action["y_m"])
    return Body(str(action["body"]), *place, bool(action["lying"]), math.radians(float(action["turn_deg"])))


def _place(world: World, action: Action) -> str:
    return _stood(world, _body(action))


def _stood(world: World, body: Body) -> str:
    world.people.place(body)
    cut = [guard for guard in BEAMS if not math.isnan(world.people.beam_cut_at(guard))]
    there = said("The {body} is there.", body=body.name)
    return said("{there} It cuts the {beams}.", there=there, beams=joined(cut, " and the ")) if cut else there


def _place_ready(world: World, action: Action) -> None:
    world.people.check(_body(action))


def _moved(world: World, action: Action) -> Body:
    _there(world, action)
    body = world.people.bodies[str(action["body"])]
    return replace(body, x_m=float(action["x_m"]), y_m=float(action["y_m"]))


def _move(world: World, action: Action) -> str:
    return _stood(world, _moved(world, action))


def _move_ready(world: World, action: Action) -> None:
    world.people.check(_moved(world, action))


def _walker(world: World, action: Action) -> tuple[Body, tuple[tuple[float, float], ...]]:
    path = path_of(str(action["path"]))
    name = str(action["body"])
    body = world.people.bodies.get(name, Body(name, *path[0], lying=False))
    if body.shape.is_person and body.lying:
        raise Refused(said("the {body} lies on the ground; place the {body} standing first", body=name))
    return body, path


def _walk(world: World, action: Action) -> str:
    body, path = _walker(world, action)
    if body.name not in world.people.bodies:
        world.people.place(body)
    world.people.walks.set_out(body, path, float(action["speed_m_s"]))
    return said("The {body} sets out.", body=body.name)


def _walk_ready(world: World, action: Action) -> None:
    world.people.check(_walker(world, action)[0])


def _stop(world: World, action: Action) -> str:
    name = str(action["body"])
    return said(
        "The {body} stops." if world.people.walks.stop(name) else "The {body} stood still already.", body=name
    )


def _remove(world: World, action: Action) -> str:
    world.people.remove(str(action["body"]))
    return said("The {body} is gone.", body=action["body"])


def _there(world: World, action: Action) -> None:
    if action["body"] not in world.people.bodies:
        raise Refused(said("there is no {body} on the plan", body=action["body"]))


def _cover(world: World, action: Action) -> str:
    world.people.covered.add(str(action["guard"]))
    world.people.beams_changed()
    return said("A card is before the {guard}'s receiver.", guard=action["guard"])


def _uncover(world: World, action: Action) -> str:
    world.people.covered.discard(str(action["guard"]))
    world.people.beams_changed()
    return said("The {guard} is free.", guard=action["guard"])


def _press_edge(world: World, action: Action) -> str:
    height_m = float(action["height_mm"]) / 1000.0
    world.people.pressed_at_m[str(action["guard"])] = height_m
    guard = str(action["guard"])
    _edge(world, guard, pressed=True)
    return said("The {guard} is pressed at {height_mm:.0f} mm.", guard=guard, height_mm=height_m * 1000)


def _release_edge(world: World, action: Action) -> str:
    _edge(world, str(action["guard"]), pressed=False)
    return said("The {guard} is let go.", guard=action["guard"])


def _edge(world: World, guard: str, *, pressed: bool) -> None:
    (world.people.edges_pressed.add if pressed else world.people.edges_pressed.discard)(guard)
    world.people.told(world.cabinet.set_edge_pressed(guard, world.people.is_tripped(guard)))


def _fitted(names: object, sentence: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if guard not in names:  # type: ignore[operator]
            raise Refused(said(sentence, guard=guard))
        if isinstance(getattr(world.site.guards, guard.replace(" ", "_")), str):
            raise Refused(said("no {guard} is fitted on this site", guard=guard))

    return ready


def _hold(world: World, action: Action) -> str:
    leaf, what = leaf_of(action), str(action["what"])
    world.people.hinges.hold(leaf, what)
    wide = world.people.hinges.gap_m(leaf)
    met = world.people.hinges.met_at(leaf)
    return said(
        "The {what} is in the gap at the {leaf} hinge: {wide_mm:.0f} mm now, as thin as that at {angle_deg:.0f}°."
        if met is not None
        else "The {what} is in the gap at the {leaf} hinge: {wide_mm:.0f} mm now, never as thin as that.",
        what=what,
        leaf=action["leaf"],
        wide_mm=wide * 1000,
        angle_deg=0.0 if met is None else math.degrees(met),
    )


def _hold_ready(world: World, action: Action) -> None:
    world.people.hinges.check(leaf_of(action), str(action["what"]))


def _take_out(world: World, action: Action) -> str:
    what = world.people.hinges.take_out(leaf_of(action))
    return said("The {what} is out of the gap at the {leaf} hinge.", what=what, leaf=action["leaf"])


def _take_out_ready(world: World, action: Action) -> None:
    world.people.hinges.check_free(leaf_of(action))


EFFECTS = {
    "place body": Effect(_place, _place_ready),
    "move body": Effect(_move, _move_ready),
    "walk body": Effect(_walk, _walk_ready),
    "stop body": Effect(_stop, _there),
    "remove body": Effect(_remove, _there),
    "hold in hinge gap": Effect(_hold, _hold_ready),
    "take out of hinge gap": Effect(_take_out, _take_out_ready),
    "cover beam": Effect(_cover, _fitted(BEAMS, "the {guard} is no beam")),
    "uncover beam": Effect(_uncover, _fitted(BEAMS, "the {guard} is no beam")),
    "press edge": Effect(_press_edge, _fitted(EDGES, "the {guard} is no edge")),
    "release edge": Effect(_release_edge, _fitted(EDGES, "the {guard} is no edge")),
}
