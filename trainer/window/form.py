"""A form made from an entry of the action catalogue: one field for each argument, and the button that does it."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING

from sim.world.actions import CATALOGUE, Argument
from trainer.language import _
from trainer.window.kit.boxes import Column, Row, Spacer
from trainer.window.kit.button import Button, Look, Toggle
from trainer.window.kit.choice import Dropdown, RadioRow
from trainer.window.kit.entry import Entry, NumberEntry
from trainer.window.kit.label import Label
from trainer.window.kit.widget import Widget
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.window.hands import Hands

UNITS = {"_mm": "mm", "_m_s": "m/s", "_m": "m", "_s": "s", "_deg": "°"}
"""What the end of an argument's name says of its unit, the longer end first."""

FIELD_LABEL = 112.0


class ActionForm(Column):
    """Fields for what is not fixed, filled with what is known; the button sends them to the session."""

    def __init__(
        self,
        hands: Hands,
        kind: str,
        *,
        fixed: Mapping[str, object] | None = None,
        known: Mapping[str, object] | None = None,
        offered: Mapping[str, Sequence[str]] | None = None,
        words: str = "",
        look: Look = "plain",
        then: Callable[[], None] | None = None,
    ) -> None:
        self.hands = hands
        self.kind = kind
        self.fixed = dict(fixed or {})
        self.given: dict[str, object] = {}
        self.then = then
        entry = CATALOGUE[kind]
        rows: list[Widget] = []
        for argument in entry.arguments:
            if argument.name not in self.fixed:
                start = (known or {}).get(argument.name, argument.default)
                rows.append(self._row(argument, start, list((offered or {}).get(argument.name, ()))))
        self.button = Button(words or action_words(kind), self.send, look=look, help=_(entry.help), acts=(kind,))
        super().__init__(*rows, Row(Spacer(grow=1.0), self.button), gap=6, role="form", label=kind)

    def _row(self, argument: Argument, start: object, offered: list[str]) -> Widget:
        field = self._field(argument, start, offered)
        name = first_upper(_(plain_name(argument.name)))
        label = Label(name, width=FIELD_LABEL, help=first_upper(_(argument.help)))
        if isinstance(field, NumberEntry):
            return Row(label, field, Label(field.unit), Spacer(grow=1.0))
        if isinstance(field, RadioRow):
            return Row(label, field, Spacer(grow=1.0))
        return Row(label, field)

    def _field(self, argument: Argument, start: object, offered: list[str]) -> Widget:
        name, told = argument.name, first_upper(_(argument.help))
        choices = self._offered(argument) or offered
        if argument.type is bool:
            self.given[name] = bool(start)
            return Toggle(_("yes"), bool(start), lambda on: self._take(name, on), help=told)
        if argument.type in (int, float):
            return self._number(argument, start, told)
        if choices:
            chosen = str(start) if start in choices else choices[0]
            self.given[name] = chosen

            def choose(choice: str) -> None:
                self._take(name, choice)

            if len(choices) <= 3 and sum(len(_(c)) for c in choices) < 26:
                return RadioRow(name, choices, chosen, choose, help=told, words=_)
            return Dropdown(name, choices, chosen, choose, help=told, grow=1.0, words=_)
        self.given[name] = str(start or "")
        return Entry(
            name,
            str(start or ""),
            lambda _text: self.send(),
            help=told,
            grow=1.0,
            on_change=lambda text: self._take(name, text),
        )

    def _offered(self, argument: Argument) -> list[str]:
        """What may be chosen: of leaves, those that hang here."""
        fitted = [leaf.name for leaf in self.hands.view.leaves] if argument.name == "leaf" else argument.choices
        return [choice for choice in argument.choices if choice in fitted]

    def _number(self, argument: Argument, start: object, told: str) -> NumberEntry:
        whole = argument.type is int
        value = start if isinstance(start, (int, float)) else (argument.least or 0)
        self.given[argument.name] = value
        unit = unit_of(argument.name)

        def take(text: str) -> None:
            try:
                self._take(argument.name, int(text) if whole else float(text.replace(",", ".")))
            except ValueError:
                self._take(argument.name, text)

        span = (argument.most or 100) - (argument.least or 0)
        step = 1.0 if whole or span <= 200 else 10.0
        return NumberEntry(
            argument.name,
            f"{value:g}",
            lambda _text: self.send(),
            least=argument.least,
            most=argument.most,
            step=0.1 if argument.name.endswith("_m") else step,
            unit=unit,
            help=told,
            width=96,
            on_change=take,
        )

    def _take(self, name: str, value: object) -> None:
        self.given[name] = value

    def send(self) -> None:
        """Do it with what the fields hold."""
        self.hands.do(self.kind, {**self.fixed, **self.given}, self.then)


def plain_name(name: str) -> str:
    """An argument as the form names it: without its unit, which stands behind the field."""
    return name.removesuffix(_ending(name)).replace("_", " ")


def unit_of(name: str) -> str:
    """The unit behind the field of an argument; '' for one without."""
    return "s" if name == "seconds" else UNITS.get(_ending(name), "")


def _ending(name: str) -> str:
    return next((ending for ending in UNITS if name.endswith(ending)), "")
