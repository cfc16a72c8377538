"""What is in hand: an instrument, its function, and the places chosen for it. Of the window alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from trainer.language import _

if TYPE_CHECKING:
    from trainer.session.tools import FunctionView, InstrumentView
    from trainer.session.view import View

FIRST = "two-pole tester"
"""What is in hand at first, and again when a lead is put while a tool without leads is."""

ROLES = ("at", "against")


@dataclass
class Bench:
    """Shared by the wiring drawing and the pages Cabinet and Instruments."""

    tool: str = FIRST
    red: str = ""
    black: str = ""
    chosen: dict[str, str] = field(default_factory=dict)
    """Instrument to the function it is set to."""
    places: dict[tuple[str, str], str] = field(default_factory=dict)
    """(kind of place, role) to the place chosen, for all but terminals: those are the leads."""

    # -- the instrument

    def instrument(self, view: View) -> InstrumentView | None:
        """What is in hand."""
        return view.tools.instrument(self.tool)

    def function(self, view: View) -> FunctionView | None:
        """What it is set to: what was chosen, else the first that is put somewhere."""
        held = self.instrument(view)
        if held is None:
            return None
        named = next((f for f in held.functions if f.name == self.chosen.get(self.tool)), None)
        return named or next((f for f in held.functions if f.at), None)

    def take_all(self, other: Bench) -> None:
        """Hold what another bench holds, in the same places."""
        self.tool, self.red, self.black = other.tool, other.red, other.black
        self.chosen, self.places = dict(other.chosen), dict(other.places)

    def take(self, tool: str) -> None:
        """Another one in hand."""
        self.tool = tool

    # -- places

    def put(self, terminal: str, lead: str = "", view: View | None = None) -> None:
        """A lead goes to a terminal: the one named, else red first, then black, then red again.

        A tool without leads is put away for one that has them.
        """
        if view is not None:
            self._with_leads(view)
        if not lead:
            lead = "red" if not self.red or (self.red and self.black) else "black"
            if lead == "red":
                self.black = ""
        if lead == "red":
            self.red = terminal
        else:
            self.black = terminal

    def _with_leads(self, view: View) -> None:
        function = self.function(view)
        if function is not None and function.at == "terminal":
            return
        held = self.instrument(view)
        other = next((f for f in held.functions if f.at == "terminal"), None) if held is not None else None
        if other is not None:
            self.chosen[self.tool] = other.name
        else:
            self.tool = FIRST

    def place(self, kind: str, role: str) -> str:
        """The place chosen for a role; '' while there is none."""
        if kind == "terminal":
            return self.red if role == "at" else self.black
        return self.places.get((kind, role), "")

    def choose(self, kind: str, role: str, name: str) -> None:
        """Choose a place."""
        if kind == "terminal":
            self.put(name, "red" if role == "at" else "black")
        else:
            self.places[kind, role] = name

    def missing(self, view: View) -> bool:
        """Whether a place that is needed has not been chosen."""
        function = self.function(view)
        if function is None:
            return True
        return any(kind and not self.place(kind, role) for role, kind in _kinds(function))

    def given(self, view: View) -> dict[str, object]:
        """The arguments of an act with what is in hand."""
        function = self.function(view)
        assert function is not None
        held = {role: self.place(kind, role) for role, kind in _kinds(function)}
        return {"instrument": self.tool, "function": function.name, **held}

    @property
    def ready(self) -> bool:
        """Both leads have a place."""
        return bool(self.red and self.black)

    def told(self) -> str:
        """The leads in words."""
        return _("red: {red} · black: {black}").format(red=_(self.red) or "…", black=_(self.black) or "…")


def _kinds(function: FunctionView) -> tuple[tuple[str, str], tuple[str, str]]:
    return (ROLES[0], function.at), (ROLES[1], function.against)
