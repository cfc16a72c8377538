"""The controller's sheet as its catalogue has it: the list, one setting in words, the whole as JSON or as a page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Any, Final

from sim.errors import ActionError, nearest_right
from trainer.cli import printed

if TYPE_CHECKING:
    from sim.controller.rules import Rule
    from sim.controller.settings import Setting

WIDTH: Final = 100

_STALE: Final = {
    "load": "A change makes the learned load out of date; two whole cycles by command renew it.",
    "travel": "A change makes travel learning out of date; the gate must learn again.",
}


def tell(words: Sequence[str], as_json: bool, as_page: bool) -> None:
    """List the settings, explain one, or write out all of them. Raises ActionError for a name there is none of."""
    from sim.controller.settings import CATALOGUE

    name = " ".join(words).strip().lower()
    if name and name not in CATALOGUE:
        raise ActionError(f"the sheet has no setting '{name}'{nearest_right(name, CATALOGUE, alike=0.5)}")
    entries = [CATALOGUE[name]] if name else list(CATALOGUE.values())
    if as_json:
        rows = [_as_base_types(entry) for entry in entries]
        printed.as_json(rows[0] if name else rows)
    elif as_page:
        print("\n".join(_page(entries)))
    elif name:
        print("\n".join(_explained(entries[0])))
    else:
        _list(entries)


def _list(entries: Sequence[Setting]) -> None:
    for group in dict.fromkeys(entry.group for entry in entries):
        print(group)
        printed.table(
            ("  setting", "from the works", "allowed"),
            [(f"  {e.name}", _amount(e.default, e.unit), _allowed(e)) for e in entries if e.group == group],
        )
        print()
    print(f"{len(entries)} settings. `gudgeon settings NAME` says what one does, and what it is judged with.")


def _amount(value: object, unit: str) -> str:
    return str(value) if isinstance(value, str) else f"{value:g} {unit}".rstrip()


def _allowed(entry: Setting) -> str:
    if entry.choices:
        return ", ".join(entry.choices)
    step = f", in steps of {entry.step:g}" if entry.step else ""
    return f"{entry.least:g} to {entry.most:g} {entry.unit}".rstrip() + step


def _rows(entry: Setting) -> list[tuple[str, str]]:
    from sim.controller import rules

    refused = [rule for rule in rules.CONTRADICTIONS if entry.name in rule.settings]
    rows = [
        ("what it does", entry.help),
        ("allowed", f"{_allowed(entry)}."),
        ("from the works", f"{_amount(entry.default, entry.unit)}."),
        ("stale", _STALE.get(entry.outdates, "")),
        *[("refused", _with(entry, rule.settings, f"{rule.reason}.")) for rule in refused],
        *[("warned", _with(entry, rule.settings, rule.reason)) for rule in rules.about(entry.name)],
    ]
    return [(head, text) for head, text in rows if text]


def _with(entry: Setting, names: Sequence[str], reason: str) -> str:
    others = [name for name in names if name != entry.name]
    return f"(with {', '.join(others)}) {reason}" if others else reason


def _explained(entry: Setting) -> list[str]:
    lines = [f"{entry.name} ({entry.group})", ""]
    for head, text in _rows(entry):
        lines.append(textwrap.fill(text, WIDTH, initial_indent=f"{head:<15} ", subsequent_indent=" " * 16))
    return lines


def _page(entries: Sequence[Setting]) -> list[str]:
    lines = ["# The sheet of the controller", ""]
    for group in dict.fromkeys(entry.group for entry in entries):
        lines += [f"## {group}", ""]
        for entry in (each for each in entries if each.group == group):
            lines += [f"### {entry.name}", ""]
            lines += [f"- *{head}:* {text}" for head, text in _rows(entry)]
            lines.append("")
    return lines[:-1]


def _said(rules: Iterable[Rule]) -> list[dict[str, Any]]:
    return [{"settings": list(rule.settings), "reason": rule.reason} for rule in rules]


def _as_base_types(entry: Setting) -> dict[str, Any]:
    from sim.controller import rules

    limits = {"least": entry.least, "most": entry.most, "step": entry.step}
    return {
        "name": entry.name,
        "group": entry.group,
        "help": entry.help,
        "default": entry.default,
        **({"choices": list(entry.choices)} if entry.choices else {"unit": entry.unit, **limits}),
        "outdates": entry.outdates,
        "depends on": list(rules.depends_on(entry.name)),
        "refused": _said(rule for rule in rules.CONTRADICTIONS if entry.name in rule.settings),
        "warned": _said(rules.about(entry.name)),
    }
