"""People and things in the yard: bodies on the plan, hands on leaves, cards before beams, fingers on edges."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.mechanics.axes import axes_of
from sim.mechanics.obstacle import GAUGE_NAME
from sim.mechanics.plant import Obstacle, StopReport
from sim.mechanics.yard import Body, Meeting, is_in_arc, meeting
from sim.said import said
from sim.site.models import Edge
from sim.units import SCAN, SECOND, LeafName
from sim.world.beams import BEAMS, Beams
from sim.world.clock import Phase
from sim.world.hinges import Hinges
from sim.world.second_person import SecondPerson
from sim.world.slots import Slots
from sim.world.walks import Walks

if TYPE_CHECKING:
    from sim.world.world import World

HAND_MOST_N = 90.0
"""The hardest a person pushes a leaf at its tip [N]. CP, no source."""

HAND_SPEED = 0.25
"""How fast a leaf is walked by hand [rad/s]. CP, no source."""

HAND_HEIGHT_M = 0.9
"""Where a hand presses an edge when nobody says where [m]. CP, no source."""

EDGES = {"active edge": 0, "inactive edge": 1}


class People:
    """Whatever stands, lies, leans or holds something in the yard."""

    def __init__(self, world: World) -> None:
        self._world = world
        self.bodies: dict[str, Body] = {}
        self.edges_pressed: set[str] = set()
        self.pressed_at_m: dict[str, float] = {}
        """How high above ground a hand presses an edge, by its guard."""
        self.stop_pressed = False
        self.slots = Slots()
        self.beams = Beams(world)
        self.walks = Walks(world)
        self.hinges = Hinges(world, self.slots)
        self.second = SecondPerson(world)

    @property
    def covered(self) -> set[str]:
        """Beams with a card before their receiver."""
        return self.beams.covered

    def state(self) -> tuple[object, ...]:
        """Who and what is in the yard, as plain data: for digests."""
        ways = tuple((name, walk.path, walk.speed_m_s, walk.begun) for name, walk in self.walks.under_way.items())
        bodies = tuple((b.name, b.x_m, b.y_m, b.lying, b.turn) for b in self.bodies.values())
        return bodies, ways, tuple(sorted(self.covered))

    # -- bodies ----------------------------------------------------------------------------------------

    def meetings(self, body: Body) -> list[Meeting | None]:
        """Where each leaf would meet the body; raises Refused if it would stand in a leaf or on a hinge."""
        found: list[Meeting | None] = []
        leaves = self._world.site.leaves
        for leaf, (name, model) in enumerate(zip(leaves.fitted, leaves.hung, strict=True)):
            meets = meeting(
                body,
                axes_of(self._world.site, leaf),
                reach_m=model.width_m,
                clearance_m=model.ground_clearance_m,
                angle=self._world.plant.angle(leaf),
            )
            if isinstance(meets, str):
                raise Refused(said("{meets} ({leaf} leaf); put it somewhere else", meets=meets, leaf=name))
            found.append(meets)
        return found

    def place(self, body: Body) -> None:
        """Put a body on the plan, in place of the same body elsewhere; it stands still there."""
        self.walks.stop(body.name)
        self.stand(body)

    def check(self, body: Body) -> None:
        """Raise Refused where a body can't stand, or when too much is in the leaves' way already."""
        if any(self.meetings(body)) and body.name not in self.slots:
            self.slots.check()

    def stand(self, body: Body) -> None:
        """A body stands there now, on its way or for good. Raises Refused, nothing changed, where it can't."""
        meetings = self.meetings(body)
        self.check(body)
        plant, name = self._world.plant, body.name
        if any(meetings) and name not in self.slots:
            self.slots.take(name)
        if name in self.slots:
            slot = self.slots.of(name)
            for leaf, meets in enumerate(meetings):
                if meets is not None:
                    plant.place_obstacle(leaf, slot, _obstacle(body, meets))
                else:
                    plant.remove_obstacle(leaf, slot)
            if not any(meetings):
                self.slots.give_back(name)
        self.bodies[name] = body
        self.beams_changed()

    def remove(self, name: str) -> None:
        """Take a body away; nothing happens if it is not there."""
        if name not in self.bodies:
            return
        self.walks.stop(name)
        del self.bodies[name]
        if name in self.slots:
            slot = self.slots.give_back(name)
            for leaf in (0, 1):
                self._world.plant.remove_obstacle(leaf, slot)
        self.beams_changed()

    def in_arc(self) -> tuple[str, ...]:
        """People standing where a leaf sweeps, or with a hand where it squeezes."""
        found = list(dict.fromkeys(self.hinges.persons()))
        for name, body in self.bodies.items():
            for leaf, model in enumerate(self._world.site.leaves.hung):
                axes, stop = axes_of(self._world.site, leaf), math.radians(model.open_stop_deg)
                swept = is_in_arc(body, axes, reach_m=model.width_m, open_stop=stop)
                if body.shape.is_person and swept and name not in found:
                    found.append(name)
        return tuple(found)

    # -- guards as people trip them --------------------------------------------------------------------

    def beams_changed(self) -> None:
        """Something moved, or changed the light: work out what comes to the receivers and pass it on."""
        self.told(self.beams.changed())
        self._world.by_itself.loop_changed()

    def relit(self) -> None:
        """The site is another from now on: as `beams_changed`, but looked at when this instant is over, so that what
        was taken back by then was never there."""
        if self.beams.changed():
            self._world.host.rewired()
        world = self._world
        world.clock.at(world.now, Phase.LOOK, world.notices.guards_changed, "look at the guards of a changed site")
        world.by_itself.loop_changed()

    def told(self, changed: bool) -> None:
        """Guards may have changed: tell, and have the net looked at if it did."""
        self._world.notices.guards_changed()
        if changed:
            self._world.host.rewired()

    def is_tripped(self, guard: str) -> bool:
        """Whether the device is tripped physically (cut, covered, pressed, stop button in)."""
        if guard in BEAMS:
            return self.beams.is_tripped(guard)
        if guard in EDGES:
            return self._edge_reacts(guard)
        return self.stop_pressed

    def _edge_reacts(self, guard: str) -> bool:
        """Whether an edge is pressed, by a hand or by what its leaf meets, at a height where it reacts."""
        leaf, device = EDGES[guard], self._world.site.guards.device(guard)
        met = self._world.plant.edge_pressed(leaf)
        if not isinstance(device, Edge):
            return met
        at = self.pressed_at_m.get(guard, HAND_HEIGHT_M)
        if guard in self.edges_pressed and device.reacts(at, at):
            return True
        return met and device.reacts(*self._met_from_to_m(leaf))

    def _met_from_to_m(self, leaf: int) -> tuple[float, float]:
        """From and to which height a leaf's edge is pressed by what it meets [m]."""
        what, gauge = self._world.plant.touching(leaf), self._world.bag.gauge
        if what in self.bodies:
            return 0.0, self.bodies[what].size_m[2]
        if what == GAUGE_NAME and gauge is not None:
            return gauge[2] / 1000.0, gauge[2] / 1000.0
        return 0.0, math.inf

    def beam_cut_at(self, guard: str) -> float:
        """Where along a beam [m from the active hinge] a body cuts it; NaN when none does."""
        return self.beams.cut_at(guard)

    # -- hands on a leaf -------------------------------------------------------------------------------

    def push_leaf(self, leaf: int, to_deg: float) -> tuple[float, float, str]:
        """Push a leaf at its tip towards an angle until it is there or will not go further (30 s at most).

        Returns (angle reached [°], steady force [N], what it touched). The hand leans harder while the leaf lags
        and eases off near the target, the way one handles 120 kg. Shut and fully open mean: against the stop.
        """
        world, plant = self._world, self._world.plant
        target = self._hand_target(leaf, to_deg)
        steady: list[float] = []
        stuck = 0
        for _ in range(600):
            error, speed = target - plant.angle(leaf), plant.speed(leaf)
            if abs(error) < math.radians(0.4) and abs(speed) < 0.02:
                break
            plant.push(leaf, _hand_force(error, speed))
            if abs(abs(speed) - HAND_SPEED) < 0.05:
                steady.append(abs(_hand_force(error, speed)))
            world.run_to(world.now + 5 * SCAN)
            stuck = stuck + 1 if abs(plant.speed(leaf)) < 0.002 else 0
            if stuck >= 20:
                break
        touched = plant.touching(leaf)
        plant.push(leaf, 0.0)
        world.run_to(world.now + SECOND)
        force = sum(steady) / len(steady) if steady else HAND_MOST_N if stuck >= 20 else 0.0
        return math.degrees(plant.angle(leaf)), force, touched

    def _hand_target(self, leaf: int, to_deg: float) -> float:
        """Where the hand pushes to [rad]: beyond a stop, when the angle asked for is at one."""
        stop = self._world.site.leaves.pair[leaf].open_stop_deg
        if to_deg <= 0.5:
            return math.radians(min(to_deg, -2.0))
        return math.radians(max(to_deg, stop + 2.0) if to_deg >= stop - 0.5 else to_deg)

    # -- danger ----------------------------------------------------------------------------------------

    def movement_began(self, by: str) -> None:
        """A drive started: say so if a person stands in the arc, a guard is bridged, a leaf propped or roped."""
        world = self._world
        for name in self.in_arc():
            world.tell(
                "danger",
                said("the gate started ({by}) with the {body} in the arc", by=by, body=name),
                what="person in the arc",
                detail=name,
                by=by,
            )
        for guard in world.cabinet.bridged:
            if by != "jog":
                text = said("the gate moved ({by}) with the {guard} bridged", by=by, guard=guard)
                world.tell("danger", text, what="guard bridged", detail=guard, by=by)
        for name, model in zip(world.site.leaves.fitted, world.site.leaves.hung, strict=True):
            if model.secured != "free":
                text = said(
                    "the gate was driven ({by}) with the {leaf} leaf {secured}",
                    by=by,
                    leaf=name,
                    secured=model.secured,
                )
                world.tell("danger", text, what="leaf secured", detail=name, by=by)

    def leaf_touched(self, stop: StopReport) -> None:
        """A leaf met or left something: tell of it, and of the force a little later."""
        world = self._world
        self.hinges.touched(stop)
        for leaf, name in enumerate(world.site.leaves.fitted):
            touching = world.plant.touching(leaf)
            if f"{name} leaf touched {touching}" not in stop.culprit:
                continue
            if touching in self.bodies:
                self._touched(leaf, name, touching)
            elif touching == GAUGE_NAME:
                text = said("the {leaf} leaf met the force gauge", leaf=name)
                world.tell(
                    "contact", text, leaf=name, body=GAUGE_NAME, force_n=round(world.plant.contact_force(leaf))
                )

    def _touched(self, leaf: int, name: LeafName, body: str) -> None:
        world = self._world
        driven = bool(world.host.outputs.drives[leaf].duty)
        person = self.bodies[body].shape.is_person
        force = round(world.plant.contact_force(leaf))
        kind = "struck" if person and driven else "contact"
        text = said(
            "the {leaf} leaf struck the {body}" if kind == "struck" else "the {leaf} leaf met the {body}",
            leaf=name,
            body=body,
        )
        world.tell(kind, text, leaf=name, body=body, force_n=force)  # type: ignore[arg-type]
        self.walks.stop(body)
        world.clock.at(
            world.now + 30 * 1000, Phase.LOOK, lambda: self._pressed(leaf, name, body), "look at a contact"
        )

    def _pressed(self, leaf: int, name: LeafName, body: str) -> None:
        force = round(self._world.plant.contact_force(leaf))
        if force > 0:
            text = said("the {leaf} leaf presses on the {body} with {force_n} N", leaf=name, body=body, force_n=force)
            self._world.tell("contact", text, leaf=name, body=body, force_n=force)


def _hand_force(error: float, speed: float) -> float:
    """What a hand does at the tip [N] for an angle still to go [rad] at a speed [rad/s]."""
    wanted = max(-HAND_SPEED, min(HAND_SPEED, 0.8 * error))
    lean = math.copysign(40.0, error)
    return max(-HAND_MOST_N, min(HAND_MOST_N, 900.0 * (wanted - speed) + lean))


def _obstacle(body: Body, meets: Meeting) -> Obstacle:
    return Obstacle(
        name=body.name,
        angle=meets.angle,
        radius_m=meets.radius_m,
        opening=meets.opening,
        stiffness_n_m=body.shape.stiffness_n_m,
        damping_n_s_m=body.shape.damping_n_s_m,
    )
