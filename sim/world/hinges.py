"""What is held in the gaps at the hinges, where an opening leaf squeezes hardest.

Only training things are tools: a stick, a dummy of a hand. A job may place a hand, so that somebody notices it.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.errors import Refused
from sim.mechanics.leaf import hinge_gap
from sim.mechanics.obstacle import GAP_THINGS, Obstacle, in_hinge_gap
from sim.mechanics.plant import StopReport
from sim.said import said
from sim.units import LEAVES, SECOND
from sim.world.clock import Phase

if TYPE_CHECKING:
    from sim.world.slots import Slots
    from sim.world.world import World

STUCK_N = 20.0
"""What is squeezed harder than this can't be pulled out [N]. CP, no source."""

LOOKS = (SECOND // 33, SECOND, 3 * SECOND)
"""How long after the first touch one looks how hard it is squeezed [µs]. Ours."""


class Hinges:
    """Both hinge gaps, and what is in them."""

    def __init__(self, world: World, slots: Slots) -> None:
        self._world = world
        self._slots = slots
        self.held: dict[int, str] = {}
        """Leaf: what is in the gap at its hinge."""

    def gap_m(self, leaf: int) -> float:
        """How wide the gap is now [m]."""
        gap = self._world.site.leaves.pair[leaf].hinge_gap
        return hinge_gap(gap.post_m, gap.heel_along_m, gap.heel_across_m, self._world.plant.angle(leaf))

    def met_at(self, leaf: int) -> float | None:
        """The angle at which what is held there is first squeezed [rad]; None if the gap never closes on it."""
        thing = self._obstacle(leaf, self.held[leaf])
        return None if thing is None else thing.angle

    def force_n(self, leaf: int) -> float:
        """How hard what is held there is squeezed now [N]."""
        return self._world.plant.slot_force(leaf, self._slots.of(_key(leaf))) if leaf in self.held else 0.0

    def check(self, leaf: int, what: str) -> None:
        """Raise Refused where it can't be held. Changes nothing."""
        if leaf in self.held:
            raise Refused(
                said(
                    "the {what} is in the gap at the {leaf} hinge already; take it out first",
                    what=self.held[leaf],
                    leaf=LEAVES[leaf],
                )
            )
        self._slots.check()
        thick, wide = GAP_THINGS[what].thickness_m, self.gap_m(leaf)
        if wide < thick:
            raise Refused(
                said(
                    "the gap at the {leaf} hinge is {wide_mm:.0f} mm now and the {what} doesn't go in; "
                    "close the leaf first",
                    leaf=LEAVES[leaf],
                    wide_mm=wide * 1000,
                    what=what,
                )
            )

    def hold(self, leaf: int, what: str) -> None:
        """Hold something in a gap. Raises Refused where it can't be held."""
        self.check(leaf, what)
        self.held[leaf] = what
        slot = self._slots.take(_key(leaf))
        thing = self._obstacle(leaf, what)
        if thing is not None:
            self._world.plant.place_obstacle(leaf, slot, thing)

    def check_free(self, leaf: int) -> None:
        """Raise Refused if nothing is there, or what is there sits fast."""
        if leaf not in self.held:
            raise Refused(said("nothing is held in the gap at the {leaf} hinge", leaf=LEAVES[leaf]))
        force = self.force_n(leaf)
        if force > STUCK_N:
            raise Refused(
                said(
                    "the {what} is squeezed with {force_n:.0f} N and can't be pulled out; let the leaf close first",
                    what=self.held[leaf],
                    force_n=force,
                )
            )

    def take_out(self, leaf: int) -> str:
        """Take it out; returns what it was."""
        self.check_free(leaf)
        self._world.plant.remove_obstacle(leaf, self._slots.give_back(_key(leaf)))
        return self.held.pop(leaf)

    def persons(self) -> tuple[str, ...]:
        """Whose hand is in a gap."""
        return tuple(what for what in self.held.values() if GAP_THINGS[what].is_person)

    def touched(self, stop: StopReport) -> None:
        """A leaf met or left something: tell if it was in the gap at its hinge, and how hard it was squeezed."""
        for leaf, what in list(self.held.items()):
            words = f"{LEAVES[leaf]} leaf {{}} {_name(what)}"
            if words.format("touched") in stop.culprit:
                self._squeezed(leaf, what)
            elif words.format("left") in stop.culprit:
                most = self._world.plant.peak_force(leaf, self._slots.of(_key(leaf)))
                text = said(
                    "the {what} at the {leaf} hinge came free; its hardest squeeze was {force_n:.0f} N",
                    what=what,
                    leaf=LEAVES[leaf],
                    force_n=most,
                )
                self._tell(leaf, text, most)

    def _squeezed(self, leaf: int, what: str) -> None:
        world = self._world
        outputs = world.host.outputs
        driven = bool((outputs.active, outputs.inactive)[leaf].duty)
        if GAP_THINGS[what].is_person and driven:
            text = said("the {leaf} leaf crushes the {what} in its hinge gap", leaf=LEAVES[leaf], what=what)
            world.tell("struck", text, leaf=LEAVES[leaf], body=what, force_n=round(world.plant.contact_force(leaf)))
        for after in LOOKS:
            world.clock.at(world.now + after, Phase.LOOK, lambda: self._pressed(leaf, what), "look at a hinge gap")

    def _pressed(self, leaf: int, what: str) -> None:
        if self.held.get(leaf) == what and self.force_n(leaf) >= 1.0:
            text = said(
                "the {leaf} leaf squeezes the {what} at its hinge with {force_n:.0f} N",
                leaf=LEAVES[leaf],
                what=what,
                force_n=self.force_n(leaf),
            )
            self._tell(leaf, text, self.force_n(leaf))

    def _tell(self, leaf: int, text: str, force_n: float) -> None:
        self._world.tell(
            "contact",
            text,
            leaf=LEAVES[leaf],
            body=self.held[leaf],
            force_n=round(force_n),
            where="hinge gap",
        )

    def _obstacle(self, leaf: int, what: str) -> Obstacle | None:
        thing = GAP_THINGS[what]
        try:
            return in_hinge_gap(
                self._world.site.leaves.pair[leaf],
                thing.thickness_m,
                name=_name(what),
                stiffness_n_m=thing.stiffness_n_m,
                damping_n_s_m=thing.damping_n_s_m,
            )
        except ValueError:  # a gap that never is that thin: it is held there, and nothing happens to it
            return None


def _name(what: str) -> str:
    """What a leaf says it touches."""
    return said("{what} in the hinge gap", what=what)


def _key(leaf: int) -> str:
    return f"{LEAVES[leaf]} hinge gap"
