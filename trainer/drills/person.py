"""A drill with a person at work: the window's session, with the instructor's words and pauses in it."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sim.units import Us
from trainer.drills.instructor import Instructor
from trainer.session.session import Session
from trainer.session.view import Reply, View
from trainer.session.worth import WorthView

SAID = ("message", "freeze")
"""What an instructor does that whoever is at work hears of."""


class PersonAtWork:
    """A session as the window uses it, while an instructor stands beside: what he says is said, once; when he asks
    something, time stands still until the person lets it go on. Everything else is the session's own.
    """

    def __init__(
        self, session: Session, instructor: Instructor, say: Callable[[str], None], goes_on: bool = False
    ) -> None:
        """`goes_on` with a drill that was left: what was heard then isn't said again, but for an open question."""
        self.session = session
        self.instructor = instructor
        self._say = say
        self._heard = 0
        if goes_on:
            self._remember()

    def _remember(self) -> None:
        """All that he said so far was heard; a question that still holds time is said again."""
        self._heard = len(self.instructor.log)
        if self.instructor.frozen:
            self._say(self.instructor.frozen)

    def tick(self, wall_s: float) -> None:
        """Let wall time pass [s]; then say what the instructor said in it."""
        self.session.tick(wall_s)
        for done in self.instructor.log[self._heard :]:
            if done.kind in SAID:
                self._say(done.text)
        self._heard = len(self.instructor.log)
        if self.instructor.frozen:
            self.session.pause(True)

    def pause(self, on: bool) -> None:
        """Hold simulated time, or let it go on; going on answers what the instructor asked."""
        if not on:
            self.instructor.go_on()
        self.session.pause(on)

    def go_on_from(self, when: Us) -> Reply:
        """Go on from a past instant [µs since arrival]; the instructor comes along."""
        reply = self.session.go_on_from(when)
        if reply.accepted:
            self.instructor.caught_up()
            self._remember()
        return reply

    def do(self, kind: str, arguments: Mapping[str, object] | None = None) -> Reply:
        """Do an action of the catalogue."""
        return self.session.do(kind, arguments)

    def observe(self) -> View:
        """Everything to be drawn."""
        return self.session.observe()

    def set_pace(self, pace: float) -> None:
        """How fast simulated time passes."""
        self.session.set_pace(pace)

    def look_at(self, when: Us | None) -> None:
        """Show a past instant [µs since arrival]; None: back to now."""
        self.session.look_at(when)

    def finish(self) -> None:
        """End the attempt as it stands."""
        self.session.finish()

    def worth(self) -> WorthView | None:
        """What each step was worth, once it has ended."""
        return self.session.worth()

    def release_all(self) -> None:
        """Let go of everything held."""
        self.session.release_all()

    def close(self) -> None:
        """Leave the window, letting go of everything held; whoever began the drill grades and closes the session."""
        self.session.release_all()
