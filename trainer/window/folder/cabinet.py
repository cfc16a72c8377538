"""Cabinet: both sources, motor leads, the guards' plugs and bridges, and the leads on its terminals."""

from __future__ import annotations

from typing import TYPE_CHECKING

from sim.units import LEAVES
from trainer.window.folder.bench import PROBING, Bench
from trainer.window.folder.page import Page, Section
from trainer.window.folder.probing import LeadPlaces
from trainer.window.kit.boxes import Flow, Row
from trainer.window.kit.button import Button
from trainer.window.kit.label import Heading, Label, Paragraph
from trainer.window.kit.style import GO, INK, SOFT, STOP
from trainer.window.kit.widget import Widget
from trainer.window.plan.leaves import leaf_name
from trainer.window.words import _, action_words, first_upper

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
        self.leads = LeadPlaces(bench)
        told = _("On the wiring drawing: click a screw for the red lead, right click for the black one.")
        self.in_hand = Paragraph(told, size=12, colour=SOFT)
        self.use = Button("", self._use, look="main", acts=("test dead", "place probes"))
        motors = [
            Row(
                Label(first_upper(leaf_name(leaf)), grow=1.0),
                self.act(action_words("swap motor leads"), "swap motor leads", leaf=leaf),
            )
            for leaf in LEAVES
        ]
        self.body.fill_with(
            [
                self.sources,
                Heading(_("Motor leads at the board")),
                *motors,
                self.guards,
                Heading(_("Leads on the terminals")),
                self.in_hand,
                self.leads,
                Flow(self.use),
            ]
        )

    def show(self, view: View) -> None:
        """Rows follow the cabinet."""
        if self.changed("sources", (view.mains_on, view.battery_linked, view.board_on)):
            self.sources.rebuild()
        if self.changed("guards", tuple((g.name, g.fitted, g.plugged, g.bridged) for g in view.guards)):
            self.guards.rebuild()
        self.leads.show(view)
        tool = self.bench.tool if self.bench.tool in PROBING else "two-pole tester"
        self.use.relabel(_("Use the {tool}").format(tool=_(tool)))
        self.use.enabled = self.bench.ready

    def _use(self) -> None:
        bench = self.bench
        if bench.tool == "multimeter":
            self.hands.do("place probes", {"function": bench.function, "red": bench.red, "black": bench.black})
        else:
            self.hands.do("test dead", {"red": bench.red, "black": bench.black})

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
                    Label(first_upper(guard.name), grow=1.0, size=13),
                    Label(state, width=76, colour=colour, size=12),
                    pull,
                    self.act(_("Remove") if guard.bridged else action_words(link), link, guard=guard.name),
                    gap=6,
                )
            )
        return rows
