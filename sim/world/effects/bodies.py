"""Bodies on the plan, things in hinge gaps, cards before beams, fingers on edges."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.mechanics.yard import Body
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
    return f"The {body.name} is there." + (f" It cuts the {' and the '.join(cut)}." if cut else "")


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
        raise Refused(f"the {name} lies on the ground; place the {name} standing first")
    return body, path


def _walk(world: World, action: Action) -> str:
    body, path = _walker(world, action)
    if body.name not in world.people.bodies:
        world.people.place(body)
    world.people.walks.set_out(body, path, float(action["speed_m_s"]))
    return f"The {body.name} sets out."


def _walk_ready(world: World, action: Action) -> None:
    world.people.check(_walker(world, action)[0])


def _stop(world: World, action: Action) -> str:
    name = str(action["body"])
    return f"The {name} stops." if world.people.walks.stop(name) else f"The {name} stood still already."


def _remove(world: World, action: Action) -> str:
    world.people.remove(str(action["body"]))
    return f"The {action['body']} is gone."


def _there(world: World, action: Action) -> None:
    if action["body"] not in world.people.bodies:
        raise Refused(f"there is no {action['body']} on the plan")


def _cover(world: World, action: Action) -> str:
    world.people.covered.add(str(action["guard"]))
    world.people.beams_changed()
    return f"A card is before the {action['guard']}'s receiver."


def _uncover(world: World, action: Action) -> str:
    world.people.covered.discard(str(action["guard"]))
    world.people.beams_changed()
    return f"The {action['guard']} is free."


def _press_edge(world: World, action: Action) -> str:
    height_m = float(action["height_mm"]) / 1000.0
    world.people.pressed_at_m[str(action["guard"])] = height_m
    return _edge(world, str(action["guard"]), f"pressed at {height_m * 1000:.0f} mm", pressed=True)


def _release_edge(world: World, action: Action) -> str:
    return _edge(world, str(action["guard"]), "let go", pressed=False)


def _edge(world: World, guard: str, how: str, *, pressed: bool) -> str:
    (world.people.edges_pressed.add if pressed else world.people.edges_pressed.discard)(guard)
    world.people.told(world.cabinet.set_edge_pressed(guard, world.people.is_tripped(guard)))
    return f"The {guard} is {how}."


def _fitted(names: object, what: str):  # type: ignore[no-untyped-def]
    def ready(world: World, action: Action) -> None:
        guard = str(action["guard"])
        if guard not in names:  # type: ignore[operator]
            raise Refused(f"the {guard} is no {what}")
        if isinstance(getattr(world.site.guards, guard.replace(" ", "_")), str):
            raise Refused(f"no {guard} is fitted on this site")

    return ready


def _hold(world: World, action: Action) -> str:
    leaf, what = leaf_of(action), str(action["what"])
    world.people.hinges.hold(leaf, what)
    wide = world.people.hinges.gap_m(leaf)
    met = world.people.hinges.met_at(leaf)
    when = f"as thin as that at {math.degrees(met):.0f}°" if met is not None else "never as thin as that"
    return f"The {what} is in the gap at the {action['leaf']} hinge: {wide * 1000:.0f} mm now, {when}."


def _hold_ready(world: World, action: Action) -> None:
    world.people.hinges.check(leaf_of(action), str(action["what"]))


def _take_out(world: World, action: Action) -> str:
    what = world.people.hinges.take_out(leaf_of(action))
    return f"The {what} is out of the gap at the {action['leaf']} hinge."


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
    "cover beam": Effect(_cover, _fitted(BEAMS, "beam")),
    "uncover beam": Effect(_uncover, _fitted(BEAMS, "beam")),
    "press edge": Effect(_press_edge, _fitted(EDGES, "edge")),
    "release edge": Effect(_release_edge, _fitted(EDGES, "edge")),
}
