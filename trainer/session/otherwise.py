"""The same acts on a gate that hasn't got a fault: what a reading owes to the fault shows in the difference.

Nothing is guessed: the gate is built once more without that one fault, and what was done is done again at the same
instants. An act that makes no sense there is left out, as somebody would leave it out.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

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
    _last: tuple[tuple[int, Us], Mapping[str, History]] | None = field(default=None, init=False, repr=False)

    def __call__(self, history: History) -> Mapping[str, History]:
        """Of each fault the history of the same acts without it. Takes a second or so for each."""
        stamp = (len(history.entries), history.end)
        if self._last is None or self._last[0] != stamp:
            told = {fault: _played(build(), history) for fault, build in self.builds.items()}
            self._last = (stamp, told)
        return self._last[1]


def _played(world: World, history: History) -> History:
    """The acts of a history in another gate."""
    zero = world.arrived
    for entry in history.entries:
        if entry.at + zero > world.now:
            world.run_to(Us(entry.at + zero))
        if world.ended:
            break
        try:
            world.do(entry.action, entry.line)
        except Refused:
            continue  # nobody would do it there
    return history_of(world)
