"""The controls under the plan: what acts while it is held, and what hands do in the yard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.units import LEAVES
from trainer.language import _
from trainer.window.kit.boxes import Column, Flow, Row
from trainer.window.kit.button import HoldButton, Look
from trainer.window.kit.choice import Dropdown
from trainer.window.kit.label import Label
from trainer.window.kit.lists import MenuButton
from trainer.window.kit.style import SOFT
from trainer.window.kit.widget import Widget
from trainer.window.plan.targets import Entry, guard_menu, leaf_menu
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands
    from trainer.window.plan.plan import Plan

WIRED = (
    ("open button", "Open"),
    ("close button", "Close"),
    ("step button", "Step"),
    ("key switch", "Key switch"),
    ("pedestrian button", "Pedestrian"),
    ("keypad", "Keypad"),
    ("intercom", "Intercom"),
    ("stop button", "Stop"),
)
NOT_EVERYWHERE = (
    "open button",
    "close button",
    "step button",
    "key switch",
    "pedestrian button",
    "keypad",
    "intercom",
)
"""Wired controls that a site may lack."""

BODY_ACTS = ("place body", "move body", "walk body", "stop body", "remove body")
AT_GUARDS = ("cover beam", "uncover beam", "press edge", "release edge")
AT_LEAVES = ("release drive", "engage drive", "push leaf", "hold in hinge gap", "take out of hinge gap")
TOLD = {
    "guards": "Cover a beam, press a safety edge, or let go of it",
    "leaves": "Release a drive, push a leaf by hand, hold something in the hinge gap",
    "bodies": "Put a person, a thing or a vehicle in the yard; it can be sent on its way",
}
"""What each menu is for."""

BODIES = ("test body", "adult", "child", "pram", "dog", "bicycle", "car", "van")
LIE_DOWN = ("test body", "adult", "child", "dog", "bicycle")


class Controls(Flow):
    """Groups that flow into as many lines as they need."""

    def __init__(self, hands: Hands, plan: Plan) -> None:
        self.hands = hands
        self.plan = plan
        self.held: dict[str, HoldButton] = {}
        self._of_leaf: dict[str, Row] = {}
        self.tag = Dropdown(
            _("transmitter"),
            [],
            "",
            lambda _tag: self._relabel(),
            width=150,
            words=_,
            help=_("Which transmitter is in your hand"),
        )
        self.keys = Row(gap=4)
        self._transmitters: tuple[tuple[str, int], ...] = ()
        self.guards = MenuButton(_("Guards"), [], self._at_guards, acts=AT_GUARDS, help=_(TOLD["guards"]))
        self.leaves = MenuButton(_("Leaves"), [], self._at_leaves, acts=AT_LEAVES, help=_(TOLD["leaves"]))
        self.bodies = MenuButton(_("Bodies"), [], self._with_bodies, acts=BODY_ACTS, help=_(TOLD["bodies"]))
        self.emergency = MenuButton(
            _("Emergency contact"),
            [_("Close it"), _("Set it back")],
            self._latch,
            acts=("press", "release"),
            help=_("Stays as it is put, unlike the controls that act while they are held"),
        )
        self._entries: dict[str, dict[str, Entry]] = {}
        super().__init__(
            _group(_("Wired controls, while held"), *(self._wired(control, words) for control, words in WIRED)),
            _group(_("Jog, while held"), *self._jogs()),
            _group(_("Transmitter, while held"), self.tag, self.keys),
            _group(_("By hand in the yard"), self.guards, self.leaves, self.bodies, self.emergency),
            gap=18,
            line_gap=8,
        )
        self.role = "region"
        self.label = _("controls")

    def _hold(self, held: str, words: str, kind: tuple[str, str], given: dict[str, object], look: Look) -> HoldButton:
        begin, end = kind
        ends = {name: value for name, value in given.items() if name not in ("direction", "button")}
        button = HoldButton(
            words,
            lambda: self.hands.press(begin, given),
            lambda: self.hands.let_go(end, ends),
            look=look,
            acts=kind,
            help=_("Acts while it is held: mouse, Space or Enter. Leaving it lets it go."),
        )
        self.held[held] = button
        return button

    def _wired(self, control: str, words: str) -> HoldButton:
        look: Look = "danger" if control == "stop button" else "plain"
        return self._hold(control, _(words), ("press", "release"), {"control": control}, look)

    def _jogs(self) -> list[Widget]:
        out: list[Widget] = []
        for leaf in LEAVES:
            pair: list[Widget] = [Label(_(leaf), size=12, colour=SOFT)]
            for way in ("open", "close"):
                given: dict[str, object] = {"leaf": leaf, "direction": way}
                button = self._hold(f"jog {leaf} {way}", _(way), ("jog press", "jog release"), given, "plain")
                pair.append(button)
            self._of_leaf[leaf] = Row(*pair, gap=5)
            out.append(self._of_leaf[leaf])
        return out

    def _latch(self, words: str) -> None:
        """The emergency contact stays as it is put."""
        self.hands.do("press" if words == _("Close it") else "release", {"control": "emergency contact"})

    # -- transmitters

    def _relabel(self) -> None:
        buttons = dict(self._transmitters).get(self.tag.chosen, 0)
        self.keys.fill_with(
            self._hold(
                f"transmitter {self.tag.chosen} {n}",
                f"{n}",
                ("press transmitter", "release transmitter"),
                {"transmitter": self.tag.chosen, "button": n},
                "plain",
            )
            for n in range(1, buttons + 1)
        )

    def show(self, view: View) -> None:
        """Menus and lit buttons follow the session."""
        if view.transmitters != self._transmitters:
            self._transmitters = view.transmitters
            self.tag.choices = [tag for tag, _n in view.transmitters]
            if self.tag.chosen not in self.tag.choices:
                self.tag.chosen = self.tag.choices[0] if self.tag.choices else ""
            self._relabel()
        for held, button in self.held.items():
            button.lit = held in view.held
            if held in NOT_EVERYWHERE:
                button.visible = held in view.controls
        self.emergency.visible = "emergency contact" in view.controls
        self.guards.choices = list(self._listed("guards", [g.name for g in view.guards], guard_menu))
        fitted = [leaf.name for leaf in view.leaves]
        for name, jogs in self._of_leaf.items():
            jogs.visible = name in fitted
        self.leaves.choices = list(self._listed("leaves", fitted, leaf_menu))
        standing = [_("Take away: {body}").format(body=_(body.name)) for body in view.bodies]
        for body in view.bodies:
            words = _("Stop: {body}") if body.speed_m_s > 0.0 else _("Send on its way: {body}")
            standing.append(words.format(body=_(body.name)))
        self.bodies.choices = [
            *(_("Place: {body}").format(body=_(body)) for body in BODIES),
            *(_("Place lying: {body}").format(body=_(body)) for body in LIE_DOWN),
            *standing,
        ]

    def _listed(self, of: str, names: list[str], menu: object) -> dict[str, Entry]:
        assert callable(menu)
        entries: dict[str, Entry] = {}
        for name in names:
            called = _("{leaf} leaf").format(leaf=_(name)) if of == "leaves" else _(name)
            for entry in menu(self.hands.view, name):
                entries[f"{first_upper(called)}: {entry[0]}"] = entry
        self._entries[of] = entries
        return entries

    def _take(self, of: str, words: str) -> None:
        _words, kind, given = self._entries[of][words]
        self.hands.do(kind, given)

    def _at_guards(self, words: str) -> None:
        self._take("guards", words)

    def _at_leaves(self, words: str) -> None:
        self._take("leaves", words)

    def _with_bodies(self, words: str) -> None:
        for body in BODIES:
            if words == _("Place: {body}").format(body=_(body)):
                self.plan.carry(body)
            elif words == _("Place lying: {body}").format(body=_(body)):
                self.plan.carry(body, lying=True)
            elif words == _("Take away: {body}").format(body=_(body)):
                self.hands.do("remove body", {"body": body})
            elif words == _("Send on its way: {body}").format(body=_(body)):
                self.plan.send(body)
            elif words == _("Stop: {body}").format(body=_(body)):
                self.hands.do("stop body", {"body": body})


def _group(caption: str, *widgets: Widget) -> Column:
    return Column(Label(caption, size=11, colour=SOFT), Flow(*widgets, gap=5, line_gap=5), gap=3, label=caption)
