"""Writing on the sheet: reading what was typed, and refusing what contradicts the rest."""

from __future__ import annotations

from collections.abc import Mapping

from sim.controller.rules import EDGE_NEVER, contradiction
from sim.controller.settings import CATALOGUE, NOT_STATED, Setting, Value
from sim.errors import ActionError, Refused, nearest_right
from sim.said import joined, said

Sheet = Mapping[str, Value]


def number(sheet: Sheet, name: str) -> float:
    """The amount a setting holds, in the unit of its entry."""
    value = sheet[name]
    if isinstance(value, (str, bool)):
        raise ActionError(f"'{name}' holds {value!r}, not an amount")
    return float(value)


def word(sheet: Sheet, name: str) -> str:
    """The choice a setting holds."""
    return str(sheet[name])


def leaves(sheet: Sheet) -> tuple[int, ...]:
    """Indices of the leaves that the sheet says are there; until it is stated, both are taken to be."""
    return (0,) if word(sheet, "leaves fitted") == "1" else (0, 1)


def first_leaf(sheet: Sheet) -> int:
    """Index of the leaf that opens first and closes last."""
    return 1 if word(sheet, "opens first") == "inactive" and len(leaves(sheet)) == 2 else 0


def checked(sheet: Sheet, name: str, typed: Value) -> Value:
    """The value to write for what was typed.

    Raises ActionError for an unknown setting, a value it can't take or one out of range (naming what is allowed),
    and Refused where it contradicts the rest of the sheet, with the reason.
    """
    entry = CATALOGUE.get(name)
    if entry is None:
        raise ActionError(
            said(
                "the sheet has no setting '{setting}'{hint}",
                setting=name,
                hint=nearest_right(name, CATALOGUE, alike=0.5),
            )
        )
    value = _chosen(entry, typed) if entry.choices else _measured(entry, typed)
    reason = contradiction({**sheet, name: value})
    if reason:
        raise Refused(
            said("{setting} can't be {value}: {reason}", setting=name, value=_shown(entry, value), reason=reason)
        )
    return value


def _chosen(entry: Setting, typed: Value) -> str:
    text = str(typed).strip().lower() if not isinstance(typed, bool) else ("on" if typed else "off")
    if isinstance(typed, (int, float)) and not isinstance(typed, bool) and float(typed).is_integer():
        text = str(int(typed))
    if text in entry.choices:
        return text
    if entry.name.endswith("edge") and text in ("hold", "halt"):
        raise Refused(
            said("{setting} can't be '{value}': {reason}", setting=entry.name, value=text, reason=EDGE_NEVER)
        )
    allowed = joined(entry.choices, ", ")
    raise ActionError(
        said("{setting} can't be '{value}'; allowed: {allowed}", setting=entry.name, value=typed, allowed=allowed)
    )


def _measured(entry: Setting, typed: Value) -> float:
    try:
        value = float(str(typed).strip().replace(",", ".")) if not isinstance(typed, bool) else float("nan")
    except ValueError:
        value = float("nan")
    least, most = entry.least, entry.most
    assert least is not None
    assert most is not None
    if not least <= value <= most:
        raise ActionError(
            said(
                "{setting} can't be '{value}'; allowed: {least:g} to {most:g} {unit}"
                if entry.unit
                else "{setting} can't be '{value}'; allowed: {least:g} to {most:g}",
                setting=entry.name,
                value=typed,
                least=least,
                most=most,
                unit=entry.unit,
            )
        )
    if entry.step == 1.0 and not entry.unit and not value.is_integer():
        raise ActionError(
            said("{setting} can't be '{value}'; a whole number is needed", setting=entry.name, value=typed)
        )
    return value


def _shown(entry: Setting, value: Value) -> str:
    return said("'{value}'", value=value) if isinstance(value, str) else in_words(entry.name, value)


def in_words(name: str, value: Value) -> str:
    """A value of a setting as it is told, with its unit."""
    if isinstance(value, str):
        return value
    unit = CATALOGUE[name].unit
    return said("{value:g} {unit}" if unit else "{value:g}", value=value, unit=unit)


def unstated(sheet: Sheet) -> list[str]:
    """What the sheet must still say before the gate can learn."""
    missing = [name for name in ("leaves fitted", "drive kind") if word(sheet, name) == NOT_STATED]
    if len(leaves(sheet)) == 2 and word(sheet, "opens first") == NOT_STATED:
        missing.append("opens first")
    return missing
