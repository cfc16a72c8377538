"""A second person at the stop button: presses it a moment after somebody is in danger, or on word."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.errors import Refused
from sim.said import said
from sim.units import SCAN, SECOND, next_on_grid
from sim.world.clock import Phase
from sim.world.history import Event

if TYPE_CHECKING:
    from sim.world.world import World

REACTS_IN: Final = 8 * SECOND // 10
"""From seeing to the button being in: 0.2 s to see, 0.6 s for a hand that lies on it [µs]. CP, no source."""


class SecondPerson:
    """Whether somebody stands there, and what they do."""

    def __init__(self, world: World) -> None:
        self._world = world
        self.is_posted = False

    def check(self, *, posted: bool) -> None:
        """Raise Refused when somebody can't be posted, or when nobody is."""
        if isinstance(self._world.site.guards.stop_circuit, str):
            raise Refused("no stop button is fitted on this site: there is nothing to stand at")
        if posted and self.is_posted:
            raise Refused("somebody stands at the stop button already")
        if not posted and not self.is_posted:
            raise Refused("nobody stands at the stop button; post a second person first")

    def post(self) -> str:
        """Stand there from now on."""
        self.is_posted = True
        self._world.listeners.append(self._sees)
        return said("A second person stands at the stop button, hand on it.")

    def send_away(self) -> str:
        """Stand there no longer."""
        self.is_posted = False
        self._world.listeners.remove(self._sees)
        return said("The second person has left the stop button.")

    def on_word(self) -> str:
        """Press it now."""
        if self._world.people.stop_pressed:
            return said("The stop button is in already.")
        self._press()
        return said("The second person has pressed the stop button; it stays in until it is pulled out.")

    def _sees(self, event: Event) -> None:
        """Somebody is pressed by a leaf, the leaves clash, or the gate starts with somebody in its arc."""
        in_danger = event.kind in ("struck", "clash") or (
            event.kind == "danger" and event.data.get("what") == "person in the arc"
        )
        if not in_danger or self._world.people.stop_pressed:
            return
        at = next_on_grid(int(self._world.now) + REACTS_IN, SCAN)
        self._world.clock.at(at, Phase.HAND, self._press, "second person at the stop button")

    def _press(self) -> None:
        if self.is_posted and not self._world.people.stop_pressed:
            self._world.people.stop_pressed = True
            self._world.people.told(self._world.cabinet.set_stop_pressed(True))
