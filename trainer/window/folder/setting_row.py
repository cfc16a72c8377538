"""One setting on a page: its name, a field, its unit or how the guard reads, and how it was found."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.kit.boxes import Column, Row
from trainer.window.kit.choice import Dropdown
from trainer.window.kit.entry import NumberEntry
from trainer.window.kit.label import Item, Label
from trainer.window.kit.style import GO, INK, SMALL, SOFT, STOP, WARN, WIRE
from trainer.window.words import first_upper

if TYPE_CHECKING:
    from trainer.session.view import SettingView

FIELD_WIDE = 112.0
SIDE_WIDE = 72.0
GAP = 6
SHORT = 13
"""Letters of a choice that a field has room for; a longer one takes the empty room beside it."""


def _is_long(row: SettingView) -> bool:
    return any(len(_(choice)) > SHORT for choice in row.choices)


def with_unit(value: str, unit: str) -> str:
    """A value as a person says it."""
    return f"{_(value)} {_(unit)}".strip()


class SettingRow(Column):
    """One setting: its name, a field, its unit or how the guard reads now; below, how it was found if it differs."""

    def __init__(self, row: SettingView, write: Callable[[str, str], None]) -> None:
        self.setting = row
        told = first_upper(_(row.help))
        if row.least is not None and row.most is not None:
            told += " " + _("{least:g} to {most:g} {unit}.").format(least=row.least, most=row.most, unit=_(row.unit))
        if row.depends_on:
            told += " " + _("Judged together with {names}.").format(names=", ".join(map(_, row.depends_on)))
        if row.default:
            told += " " + _("Out of the box: {value}.").format(value=with_unit(row.default, row.unit))
        self.name = Label(first_upper(_(row.name)), size=13, grow=1.0, help=told)
        self.field = self._make_field(row, write, told)
        self.side = Label("", size=SMALL, width=SIDE_WIDE)
        beside = () if _is_long(row) else (self.side,)
        self.was = Item("", "↶", WIRE, size=SMALL, colour=WIRE)
        line = Row(self.name, self.field, *beside, gap=GAP)
        super().__init__(line, self.was, gap=1, role="setting", label=row.name)
        self.update(row)

    def _make_field(self, row: SettingView, write: Callable[[str, str], None], told: str) -> Dropdown | NumberEntry:
        def take(value: str) -> None:
            write(row.name, value)

        if row.choices:
            wide = FIELD_WIDE + GAP + SIDE_WIDE if _is_long(row) else FIELD_WIDE
            return Dropdown(
                row.name,
                row.choices,
                row.value,
                take,
                help=told,
                width=wide,
                acts=("set",),
                anchor_right=True,
                words=_,
            )
        return NumberEntry(
            row.name,
            row.value,
            take,
            least=row.least,
            most=row.most,
            step=row.step or 1.0,
            unit=_(row.unit),
            help=told,
            width=FIELD_WIDE,
            acts=("set",),
        )

    def update(self, row: SettingView) -> None:
        """Take what stands in the controller now."""
        self.setting = row
        field = self.field
        field.enabled = not row.locked
        if isinstance(field, Dropdown):
            field.chosen = row.value
            field.colour = STOP if row.state in ("tripped", "broken") else INK
        else:
            field.show(row.value)
        self._side(row)
        self.was.visible = bool(row.found) and row.found != row.value
        self.was.show(_("was {value} when you came").format(value=with_unit(row.found, row.unit)))

    @property
    def pending(self) -> bool:
        """Whether the field holds what is not written."""
        return isinstance(self.field, NumberEntry) and self.field.pending

    def take_back(self) -> None:
        """The field shows again what stands in the controller."""
        if isinstance(self.field, NumberEntry):
            self.field.revert()

    def _side(self, row: SettingView) -> None:
        if self.pending:
            self.side.show(_("↵ write"), WARN)
        elif row.state:
            self.side.show(_(row.state), STOP if row.state in ("tripped", "broken") else GO)
        else:
            self.side.show(_(row.unit), SOFT)
