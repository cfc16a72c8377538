"""Which words of the trade stand where a person asks: under the pointer, else at the focus, else on its page."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from trainer.window.glossary.terms import Term, terms_in

if TYPE_CHECKING:
    from trainer.window.kit.root import Root
    from trainer.window.kit.widget import Widget

PAGE_ROLES = frozenset({"scroll area", "dialog", "region"})
"""What counts as the page round a widget: the smallest of these that holds words."""


def _texts(widget: Widget) -> Iterator[str]:
    """Everything that is written on a widget and below it."""
    for each in widget.walk():
        value = each.value if isinstance(each.value, str) else ""
        yield f"{each.label} {value} {each.help}"


def terms_on(widget: Widget) -> list[Term]:
    """The terms written on a widget or anywhere below it, in reading order."""
    return terms_in("\n".join(_texts(widget)))


def terms_under(widget: Widget | None) -> list[Term]:
    """The terms of a widget itself, when it is no more than one thing to read or to use."""
    return [] if widget is None or widget.children else terms_on(widget)


def terms_asked(root: Root) -> list[Term]:
    """The terms of what the pointer is on, else of what has the focus, else of the page round the focus."""
    for asked in (root.pointed, root.focus):
        found = terms_under(asked)
        if found:
            return found
    page = root.focus
    while page is not None:
        if page.role in PAGE_ROLES and (found := terms_on(page)):
            return found
        page = page.parent
    return []
