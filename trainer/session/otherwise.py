"""The same acts on a gate that hasn't got a fault: what a reading owes to the fault shows in the difference.

Nothing is guessed: the gate is built once more without that one fault, and what was done is done again at the same
instants. An act that makes no sense there is left out, as somebody would leave it out. It is done when it is asked
for, and no further than the instant that is asked about.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial

from sim.errors import Refused
from sim.units import Us
from sim.world.history import History
from sim.world.world import World
from trainer.session.since_arrival import history_of


@dataclass(slots=True)
class Otherwise:
    """How an attempt would have gone, without each fault that the gate was found with."""

    builds: Mapping[str, Callable[[], World]]
    """Fault: the gate as it was found, but for that fault."""
    _told: dict[tuple[str, int, Us, Us], History] = field(default_factory=dict, init=False, repr=False)

    def __call__(self, history: History) -> Mapping[str, Callable[[Us], History]]:
        """Of each fault who tells the history of the same acts without it, up to an instant [µs]: a second or so."""
        return {fault: partial(self._without, fault, history) for fault in self.builds}

    def _without(self, fault: str, history: History, until: Us) -> History:
        asked = (fault, len(history.entries), history.end, until)
        if asked not in self._told:
            self._told[asked] = _played(self.builds[fault](), history, until)
        return self._told[asked]


def _played(world: World, history: History, until: Us) -> History:
    """The acts of a history in another gate, those that were begun by an instant."""
    zero = world.arrived
    for entry in history.entries:
        if entry.at > until:
            break
        if entry.at + zero > world.now:
            world.run_to(Us(entry.at + zero))
        if world.ended:
            break
        try:
            world.do(entry.action, entry.line)
        except Refused:
            continue  # nobody would do it there
    return history_of(world)
