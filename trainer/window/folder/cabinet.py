"""Cabinet: both sources, motor leads, the guards' plugs and bridges, and the leads on its terminals."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.units import LEAVES
from sim.world.actions import CATALOGUE
from trainer.language import _
from trainer.window.folder.bench import Bench
from trainer.window.folder.measuring import LeadPlaces, act_of
from trainer.window.folder.page import Page, Section
from trainer.window.kit.boxes import Flow, Row
from trainer.window.kit.button import Button
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import GO, INK, SOFT, STOP
from trainer.window.kit.widget import Widget
from trainer.window.plan.leaves import leaf_name
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands


class CabinetPage(Page):
    """Everything a hand goes into the cabinet for."""

    title = "Cabinet"

    def __init__(self, hands: Hands, bench: Bench) -> None:
        super().__init__(hands)
        self.bench = bench
        self.sources = Section(self._sources, Heading(_("Sources")))
        self.guards = Section(self._guards, Heading(_("Guards at the board")))
        self.plugs = Section(self._others, Heading(_("Other plugs at the board")))
        self.leads = LeadPlaces(bench)
        told = _("On the wiring drawing: click a screw for the red lead, right click for the black one.")
        self.in_hand = Paragraph(told, size=12, colour=SOFT)
        told_use = _("Places the instrument in hand on these terminals and reads it")
        self.use = Button("", self._use, look="main", acts=("measure",), help=told_use)
        self.motors = {
            leaf: Row(
                Label(first_upper(leaf_name(leaf)), grow=1.0),
                self.act(action_words("swap motor leads"), "swap motor leads", leaf=leaf),
            )
            for leaf in LEAVES
        }
        self.body.fill_with(
            [
                self.sources,
                Heading(_("Motor leads at the board")),
                *self.motors.values(),
                self.guards,
                self.plugs,
                Heading(_("Leads on the terminals")),
                self.in_hand,
                self.leads,
                Flow(self.use),
            ]
        )

    def show(self, view: View) -> None:
        """Rows follow the cabinet."""
        for leaf, row in self.motors.items():
            row.visible = any(each.name == leaf for each in view.leaves)
        if self.changed("sources", (view.mains_on, view.battery_linked, view.board_on)):
            self.sources.rebuild()
        if self.changed("guards", tuple((g.name, g.fitted, g.plugged, g.bridged) for g in view.guards)):
            self.guards.rebuild()
        self.leads.show(view)
        self.use.relabel(_("Measure with the {tool}").format(tool=_(self.bench.tool)))
        self.use.enabled = not self.bench.missing(view)
        if self.changed("plugs", _other_plugs(view)):
            self.plugs.rebuild()

    def _use(self) -> None:
        self.hands.do(*act_of("measure", self.bench.given(self.hands.view)))

    def _others(self) -> list[Widget]:
        """Every other cable's plug."""
        rows: list[Widget] = []
        for name, plugged in _other_plugs(self.hands.view):
            state, colour = (_("plugged in"), INK) if plugged else (_("unplugged"), STOP)
            kind = "unplug" if plugged else "plug in"
            pull = self.act(action_words(kind), kind, guard=name)
            rows.append(
                Row(
                    Label(first_upper(_(name)), grow=1.0, size=13),
                    Label(state, width=76, colour=colour, size=12),
                    pull,
                )
            )
        return rows

    def _sources(self) -> list[Widget]:
        view = self.hands.view
        mains = (_("closed"), STOP, "isolate") if view.mains_on else (_("locked off"), GO, "restore")
        link = (
            (_("fitted"), STOP, "remove battery link")
            if view.battery_linked
            else (_("pulled"), GO, "fit battery link")
        )
        return [
            self._source_row(_("Mains isolator"), *mains),
            self._source_row(_("Battery link"), *link),
        ]

    def _source_row(self, name: str, state: str, colour: tuple[int, int, int], kind: str) -> Row:
        return Row(
            Label(name, width=112), Label(state, grow=1.0, colour=colour, size=13), self.act(action_words(kind), kind)
        )

    def _guards(self) -> list[Widget]:
        rows: list[Widget] = []
        for guard in self.hands.view.guards:
            if not guard.plugged and not guard.bridged:
                state, colour = _("unplugged"), STOP
            elif guard.bridged:
                state, colour = _("bridged"), STOP
            else:
                state, colour = (_("plugged in"), INK) if guard.fitted else (_("no device"), SOFT)
            plug = "unplug" if guard.plugged else "plug in"
            link = "remove bridge" if guard.bridged else "bridge"
            pull = self.act(action_words(plug), plug, guard=guard.name)
            pull.enabled = guard.fitted
            rows.append(
                Row(
                    Label(first_upper(_(guard.name)), grow=1.0, size=13),
                    Label(state, width=76, colour=colour, size=12),
                    pull,
                    self.act(_("Remove") if guard.bridged else action_words(link), link, guard=guard.name),
                    gap=6,
                )
            )
        return rows


def _other_plugs(view: View) -> tuple[tuple[str, bool], ...]:
    """(cable, whether its plug is in) of every plug that is no guard's and that an act can pull."""
    guards = {guard.name for guard in view.guards}
    known = next(a.choices for a in CATALOGUE["unplug"].arguments if a.name == "guard")
    found: dict[str, bool] = {}
    for core in view.wiring.cores:
        name = core.run.removesuffix(" plug")
        if core.run.endswith(" plug") and name not in guards and name in known:
            found[name] = found.get(name, True) and core.closed
    return tuple(found.items())
