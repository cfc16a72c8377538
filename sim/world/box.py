"""The box of transmitters of one world: how often each was pressed, and what the controller remembers of them."""

from __future__ import annotations

from sim.controller.ports import Controller, Enrolled
from sim.errors import Refused
from sim.site import Site
from sim.world import radio
from sim.world.host import Host


class Box:
    """A part of a world; a world is one of these."""

    site: Site
    controller: Controller
    host: Host

    def __init__(self) -> None:
        self.counters: dict[str, int] = {}
        """How often each transmitter was pressed here, by its tag."""
        self.buttons: dict[str, int] = {}
        """Which button of a transmitter was pressed last."""
        self.distances_m: dict[str, float] = {}
        """From how far away, by its tag [m]."""
        self.transmitter_list: tuple[Enrolled, ...] = ()
        """The paper list of who carries which transmitter, from when the gate was commissioned."""

    def enrolled(self) -> tuple[Enrolled, ...]:
        """The controller's memory of transmitters. Raises Refused for a controller that doesn't give it away."""
        found = getattr(self.controller, "enrolled", None)
        if found is None:
            raise Refused("this controller's memory of transmitters can't be read out: it is none of ours")
        return tuple(found())

    def count_ahead(self, tag: str) -> int:
        """How far a transmitter's counter is ahead of the last word the controller took from it."""
        sent = radio.word(self, tag, 1, pressed=True)
        last = getattr(self.controller, "last_count", None)
        return sent.counter - (int(last(sent.serial)) if last is not None else 0)

    def know(self, enrolled: tuple[tuple[str, int, str, str, bool], ...]) -> None:
        """That memory is found like this. Raises Refused for a controller that doesn't take it."""
        found = getattr(self.controller, "know", None)
        if found is None:
            raise Refused("this controller's memory of transmitters can't be written: it is none of ours")
        found(tuple(Enrolled(*each) for each in enrolled))
        self.host.ask()
