"""Measuring with what is in hand: its face, what it is set to, where it goes, the acts: made from its own entry."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.folder.bench import ROLES, Bench
from trainer.window.folder.readout import Readout
from trainer.window.kit.boxes import Column, Flow, Row
from trainer.window.kit.button import Button
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.label import Label
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.tools import FunctionView, ReadingView
    from trainer.session.view import View
    from trainer.window.hands import Hands

SHORT: Final = {
    ("two-pole tester", "prove", "measure"): "prove tester",
    ("two-pole tester", "test dead", "measure"): "test dead",
    ("multimeter", "", "place instrument"): "place probes",
    ("multimeter", "", "read instrument"): "read meter",
    ("multimeter", "", "lift instrument"): "lift probes",
}
"""(instrument, function or '' for any, act) to the catalogue's own shorter act for the same."""

FIELD_LABEL = 84.0


def act_of(kind: str, given: dict[str, object]) -> tuple[str, dict[str, object]]:
    """The act and its arguments, by the catalogue's shorter one where it has one that fits."""
    tool, function = str(given["instrument"]), str(given.get("function", ""))
    short = SHORT.get((tool, function, kind)) or SHORT.get((tool, "", kind))
    if short is None:
        return kind, {n: v for n, v in given.items() if n in {a.name for a in CATALOGUE[kind].arguments}}
    named = {"function": function, "red": given.get("at", ""), "black": given.get("against", "")}
    arguments = CATALOGUE[short].arguments
    if any(a.choices and named[a.name] not in a.choices for a in arguments):
        return kind, {n: v for n, v in given.items() if n in {a.name for a in CATALOGUE[kind].arguments}}
    return short, {a.name: named[a.name] for a in arguments}


class LeadPlaces(Column):
    """Two fields: where the red and the black lead go."""

    def __init__(self, bench: Bench) -> None:
        self.bench = bench
        self.red = self._field("red")
        self.black = self._field("black")
        super().__init__(
            Row(Label(_("Red lead"), width=FIELD_LABEL), self.red),
            Row(Label(_("Black lead"), width=FIELD_LABEL), self.black),
            gap=6,
        )

    def _field(self, lead: str) -> Dropdown:
        return Dropdown(
            _("{lead} lead").format(lead=_(lead)),
            [],
            "",
            lambda name: self.bench.put(name, lead),
            empty=_("choose a terminal"),
            grow=1.0,
            words=_,
            help=_("Where this lead goes; on the wiring drawing it is put with a click"),
        )

    def show(self, view: View) -> None:
        """Terminals may come and go; leads may have been put on the drawing."""
        names = [terminal.name for terminal in view.terminals]
        for each, chosen in ((self.red, self.bench.red), (self.black, self.bench.black)):
            each.choices = names
            each.chosen = chosen


class Measuring(Column):
    """The instrument in hand."""

    def __init__(self, hands: Hands, bench: Bench) -> None:
        self.hands = hands
        self.bench = bench
        self.readout = Readout("")
        self.setting = Column(gap=6)
        self.leads = LeadPlaces(bench)
        self.where = Column(gap=6)
        self.measure_button = Button("", lambda: self._with_given("measure"), look="main")
        self.leave_button = Button("", lambda: self._with_given("place instrument"))
        self.read_button = Button("", lambda: self._in_hand("read instrument"))
        self.lift_button = Button("", lambda: self._in_hand("lift instrument"))
        told = _(CATALOGUE["repeat this reading"].help)
        again = Button(action_words("repeat this reading"), self._again, acts=("repeat this reading",), help=told)
        self.direct = Flow()
        self.again = again
        super().__init__(
            self.readout,
            self.setting,
            self.leads,
            self.where,
            Flow(self.measure_button, self.leave_button, gap=6),
            Flow(self.read_button, self.lift_button, again, gap=6),
            self.direct,
            gap=6,
            role="group",
            label=_("measuring"),
        )
        self._built: object = None

    # -- what is shown

    def show(self, view: View) -> None:
        """Everything follows from the instrument's entry and from the session."""
        held, function = self.bench.instrument(view), self.bench.function(view)
        if held is None:
            return
        stands = (held, function, id(view.wiring))
        if stands != self._built:
            self._built = stands
            self._build(view, function)
        self._show_face(view, function)
        for role, field in zip(ROLES, self._fields(), strict=False):
            kind = getattr(function, role)
            field.chosen = self.bench.place(kind, role)
        self.leads.show(view)
        placed = view.tools.use(self.bench.tool) is not None
        missing = self.bench.missing(view)
        self.measure_button.enabled = self.leave_button.enabled = not missing
        self.read_button.enabled = self.lift_button.enabled = placed
        self.again.enabled = bool(view.tools.readings)

    def _fields(self) -> list[Dropdown]:
        return [w for w in self.where.walk() if isinstance(w, Dropdown)]

    def _build(self, view: View, function: FunctionView | None) -> None:
        held = self.bench.instrument(view)
        assert held is not None
        self.readout.label = held.name
        self.readout.help = _(function.help if function is not None else held.help)
        put = [each for each in held.functions if each.at]
        self.setting.fill_with(self._setting([each.name for each in put], function))
        leads = function is not None and function.at == "terminal"
        self.readout.has_leads = leads
        self.leads.visible = leads
        self.where.fill_with([] if function is None or leads else self._where(view, function))
        self.measure_button.visible = self.leave_button.visible = function is not None
        for button, kind in ((self.measure_button, "measure"), (self.leave_button, "place instrument")):
            self._name(button, kind, function.name if function is not None else "")
        for button, kind in ((self.read_button, "read instrument"), (self.lift_button, "lift instrument")):
            self._name(button, kind, "")
        self.direct.fill_with(self._at_once(each) for each in held.functions if not each.at)

    def _name(self, button: Button, kind: str, function: str) -> None:
        """A button says what it does, and of which act of the catalogue it is."""
        act, _given = act_of(kind, {"instrument": self.bench.tool, "function": function})
        button.relabel(action_words(act))
        button.acts = (act,)
        button.help = _(CATALOGUE[act].help)

    def _setting(self, names: list[str], function: FunctionView | None) -> list[Widget]:
        if len(names) < 2 or function is None:
            return []
        if sum(len(_(name)) for name in names) < 38:
            row = RadioRow(
                _("function"),
                names,
                function.name,
                self._turn,
                words=lambda f: first_upper(_(f)),
                size=12,
                help=_("What the instrument is set to"),
            )
            return [row]
        told = _("What the instrument is set to")
        field = Dropdown(_("function"), names, function.name, self._turn, grow=1.0, help=told, words=_)
        return [Row(Label(_("Set to"), width=FIELD_LABEL), field)]

    def _where(self, view: View, function: FunctionView) -> list[Widget]:
        rows: list[Widget] = []
        for role in ROLES:
            kind = getattr(function, role)
            if not kind:
                continue
            names = list(function.spots if kind == "spot" else view.offers.get(kind, ()))
            if self.bench.place(kind, role) not in names:
                self.bench.choose(kind, role, names[0] if len(names) == 1 else "")
            label = _("On") if role == "at" else _("Against")
            field = Dropdown(
                _("{role}: {kind}").format(role=label, kind=_(kind)),
                names,
                self.bench.place(kind, role),
                lambda name, kind=kind, role=role: self.bench.choose(kind, role, name),  # type: ignore[misc]
                empty=_("choose a {kind}").format(kind=_(kind)),
                grow=1.0,
                words=_,
                help=_("Where the instrument is put"),
            )
            rows.append(Row(Label(label, width=FIELD_LABEL), field))
        return rows

    def _at_once(self, function: FunctionView) -> Button:
        """A function that is put nowhere in particular is one button."""
        given: dict[str, object] = {"instrument": self.bench.tool, "function": function.name}
        act, arguments = act_of("measure", {**given, "at": "", "against": ""})
        words = action_words(act) if act != "measure" else first_upper(_(function.name))
        return Button(words, lambda: self._do(act, arguments), help=_(function.help), acts=(act,))

    def _show_face(self, view: View, function: FunctionView | None) -> None:
        use = view.tools.use(self.bench.tool)
        named = use.function if use is not None else function.name if function is not None else ""
        reading = view.tools.reading_of(self.bench.tool, named) or self._at_once_read(view)
        places = (use.at, use.against) if use is not None else ("", "")
        if use is None and function is not None:
            places = (self.bench.place(function.at, "at"), self.bench.place(function.against, "against"))
        if reading is not None and reading.function and reading.function != named:
            named, places = reading.function, ("", "")
        extremes = (_(reading.least), _(reading.most)) if reading is not None else ("", "")
        self.readout.placed = use is not None
        self.readout.state = view.tools.state(self.bench.tool)
        self.readout.show(_(reading.text) if reading is not None else "", first_upper(_(named)), places, extremes)

    def _at_once_read(self, view: View) -> ReadingView | None:
        """A reading that was taken by a button of its own, of a function that is put nowhere."""
        held, reading = self.bench.instrument(view), view.tools.reading(self.bench.tool)
        if held is None or reading is None:
            return None
        nowhere = {each.name for each in held.functions if not each.at}
        return reading if reading.function in nowhere else None

    # -- what is done

    def _turn(self, function: str) -> None:
        self.bench.chosen[self.bench.tool] = function

    def _with_given(self, kind: str) -> None:
        self._do(*act_of(kind, self.bench.given(self.hands.view)))

    def _in_hand(self, kind: str) -> None:
        self._do(*act_of(kind, {"instrument": self.bench.tool}))

    def _again(self) -> None:
        self._do("repeat this reading", {})

    def _do(self, kind: str, arguments: dict[str, object]) -> None:
        self.hands.do(kind, arguments)
