"""Leads on two terminals and the button that uses them: the same on the pages Cabinet and Instruments."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.world.actions import CATALOGUE
from trainer.window.folder.bench import Bench
from trainer.window.folder.readout import Readout
from trainer.window.kit.boxes import Column, Flow, Row
from trainer.window.kit.button import Button
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.label import Label
from trainer.window.words import _, action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

FUNCTIONS = next(a.choices for a in CATALOGUE["place probes"].arguments if a.name == "function")


class LeadPlaces(Column):
    """Two fields: where the red and the black lead go."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.red = self._field("red")
        self.black = self._field("black")
        super().__init__(
            Row(Label(_("Red lead"), width=84), self.red), Row(Label(_("Black lead"), width=84), self.black), gap=6
        )

    def _field(self, lead: str) -> Dropdown:
        return Dropdown(
            _("{lead} lead").format(lead=_(lead)),
            [],
            "",
            lambda name: self.bench.put(name, lead),
            empty=_("choose a terminal"),
            grow=1.0,
        )

    def show(self, view: View) -> None:
        """Terminals may come and go; leads may have been put on the cabinet's page."""
        names = [terminal.name for terminal in view.terminals]
        for field, chosen in ((self.red, self.bench.red), (self.black, self.bench.black)):
            field.choices = names
            field.chosen = chosen


class Multimeter(Column):
    """Function, leads, and the reading."""

    def __init__(self, hands: Hands, bench: Bench) -> None:
        self.hands = hands
        self.bench = bench
        self.readout = Readout(_("multimeter"))
        self.functions = RadioRow(
            _("function"), FUNCTIONS, bench.function, self._turn, words=lambda f: first_upper(_(f)), size=12
        )
        self.leads = LeadPlaces(bench)
        self.put = Button(action_words("place probes"), self._place, look="main", acts=("place probes",))
        self.read = Button(action_words("read meter"), lambda: self._do("read meter"), acts=("read meter",))
        self.lift = Button(action_words("lift probes"), lambda: self._do("lift probes"), acts=("lift probes",))
        buttons = Flow(self.put, self.read, self.lift)
        super().__init__(self.readout, self.functions, self.leads, buttons, gap=8, role="group")

    def show(self, view: View) -> None:
        """The reading is the session's."""
        function, reading = view.meter
        held = bool(view.meter_probes[0])
        places = _("{red} → {black}").format(red=view.meter_probes[0], black=view.meter_probes[1]) if held else ""
        self.readout.show(reading or "– – –", function or _("not in use"), places)
        self.leads.show(view)
        self.put.enabled = self.bench.ready
        self.read.enabled = self.lift.enabled = held

    def _turn(self, function: str) -> None:
        self.bench.function = function

    def _place(self) -> None:
        bench = self.bench
        self.hands.do("place probes", {"function": bench.function, "red": bench.red, "black": bench.black})

    def _do(self, kind: str) -> None:
        self.hands.do(kind)


class Tester(Column):
    """Prove it on a known source, test, prove it again."""

    def __init__(self, hands: Hands, bench: Bench) -> None:
        self.hands = hands
        self.bench = bench
        self.readout = Readout(_("two-pole tester"))
        self.leads = LeadPlaces(bench)
        self.prove = Button(action_words("prove tester"), self._prove, acts=("prove tester",))
        self.test = Button(action_words("test dead"), self._test, look="main", acts=("test dead",))
        super().__init__(self.readout, self.leads, Flow(self.prove, self.test), gap=8, role="group")

    def show(self, view: View) -> None:
        """The reading is the session's."""
        places, reading = view.tester
        self.readout.show(reading or "– – –", places or _("prove it first, and again after"), "")
        self.leads.show(view)
        self.test.enabled = self.bench.ready

    def _prove(self) -> None:
        self.hands.do("prove tester")

    def _test(self) -> None:
        self.hands.do("test dead", {"red": self.bench.red, "black": self.bench.black})
