"""The conclusion: what somebody holds to be the cause, chosen from the whole catalogue of faults.

The list is the same in every job, so that it gives nothing away; whether a conclusion is right is told at the end.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from typing import TYPE_CHECKING, Final

from sim.faults.catalogue import FAULTS
from sim.world.notebook import NO_FAULT
from trainer.language import _
from trainer.window.folder.page import Section
from trainer.window.kit.boxes import Column, Flow, Row, Spacer
from trainer.window.kit.button import Button
from trainer.window.kit.choice import Dropdown
from trainer.window.kit.label import Heading, Item, Paragraph
from trainer.window.kit.style import GO, SOFT
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper, moment

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.hands import Hands

ASKS: Final = "cause found"
"""The check that asks for a conclusion."""

SURE: Final = ("60", "80", "95")
"""How sure one may be [percent]."""


def families() -> list[str]:
    """The headings under which causes are found, in the catalogue's order; first that there is none."""
    return [NO_FAULT, *dict.fromkeys(fault.family for fault in FAULTS.values())]


def causes(family: str) -> list[str]:
    """The causes under a heading."""
    return [NO_FAULT] if family == NO_FAULT else [f.name for f in FAULTS.values() if f.family == family]


class ConclusionPart(Column):
    """Choose a cause and how sure one is; below stands what was concluded, each to be taken back."""

    def __init__(self, hands: Hands) -> None:
        self.hands = hands
        self.family = Dropdown(
            _("where it lies"),
            families(),
            families()[1],
            lambda _family: self._turn(),
            words=_named,
            help=_("The part of the gate that the cause belongs to; or that nothing is wrong"),
        )
        self.cause = Dropdown(
            _("the cause"), [], "", lambda _cause: None, grow=1.0, words=_named,
            help=_("Every fault that a gate may have, whether it fits this gate or not"),
        )  # fmt: skip
        self.sure = Dropdown(
            _("how sure"),
            SURE,
            SURE[1],
            lambda _sure: None,
            words=_percent,
            help=_("How sure you are that this is the cause"),
        )
        self.button = Button(
            action_words("conclude"),
            self._conclude,
            acts=("conclude",),
            help=_("Writes the conclusion down; whether it is right is told at the end"),
        )
        self.hint = Button(
            action_words("ask for a hint"),
            self._ask,
            look="quiet",
            acts=("ask for a hint",),
            help=_("A hint is written into the notebook and costs points; the next one comes after you have acted"),
        )
        self.held = Section(self._held, gap=2)
        self.told = Paragraph(
            _("Name every cause there is, or say that nothing is wrong. Whether it is so is told at the end."),
            colour=SOFT,
        )
        super().__init__(
            Heading(_("What I conclude")),
            self.told,
            Flow(self.family, self.sure),
            Row(self.cause, self.button),
            self.held,
            Row(self.hint, Spacer(grow=1.0)),
        )
        self._turn()

    def show(self, view: View) -> None:
        """Where the job asks for it; after the end it only stands there."""
        self.visible = any(name == ASKS for name, _state in view.acceptance)
        for field in (self.family, self.cause, self.sure, self.button, self.hint):
            field.enabled = not view.finished
        self.held.rebuild()

    def _turn(self) -> None:
        self.cause.choices = causes(self.family.chosen)
        self.cause.chosen = self.cause.choices[0]
        self.stale()

    def _conclude(self) -> None:
        self.hands.do("conclude", {"cause": self.cause.chosen, "sure": int(self.sure.chosen)})

    def _ask(self) -> None:
        self.hands.do("ask for a hint")

    def _take_back(self, cause: str) -> None:
        self.hands.do("take back conclusion", {"cause": cause})

    def _held(self) -> list[Widget]:
        return list(self._lines())

    def _lines(self) -> Iterable[Widget]:
        for each in self.hands.view.conclusions:
            told = _("{at}   {cause}, {sure} % sure").format(at=moment(each.at), cause=_(each.cause), sure=each.sure)
            item = Item(told, "▶", GO)
            item.grow = 1.0
            if self.hands.view.finished:
                yield Row(item, role="conclusion", label=_(each.cause))
                continue
            back = Button(
                action_words("take back conclusion"),
                partial(self._take_back, each.cause),
                look="quiet",
                acts=("take back conclusion",),
                help=_("Hold it no longer to be the cause"),
            )
            yield Row(item, back, Spacer(2), role="conclusion", label=_(each.cause))


def _named(name: str) -> str:
    return first_upper(_(name))


def _percent(sure: str) -> str:
    return _("{sure} % sure").format(sure=sure)
