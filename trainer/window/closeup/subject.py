"""What can be looked at closely on a gate, and what each is called."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from trainer.language import _

if TYPE_CHECKING:
    from trainer.session.view import LeafView, View


@dataclass(frozen=True, slots=True)
class Subject:
    """One close-up."""

    kind: Literal["hinge", "drive", "meeting edge", "leaf"]
    leaf: str = "active"
    """Whose; the meeting edge belongs to all leaves."""

    def of(self, view: View) -> LeafView:
        """Its leaf as it stands; the active one where that leaf doesn't hang."""
        return next((leaf for leaf in view.leaves if leaf.name == self.leaf), view.leaves[0])


MEETING = Subject("meeting edge")


def subjects(view: View) -> dict[str, Subject]:
    """Every close-up of this gate by the words it is chosen with."""
    found: dict[str, Subject] = {}
    for leaf in view.leaves:
        active = leaf.name == "active"
        found[_("Hinge of the active leaf") if active else _("Hinge of the inactive leaf")] = Subject(
            "hinge", leaf.name
        )
        found[_("Drive of the active leaf") if active else _("Drive of the inactive leaf")] = Subject(
            "drive", leaf.name
        )
        found[_("Active leaf from the front") if active else _("Inactive leaf from the front")] = Subject(
            "leaf", leaf.name
        )
    found[_("Meeting edge")] = MEETING
    return found


def words_of(view: View, subject: Subject) -> str:
    """What a close-up is called."""
    return next((words for words, each in subjects(view).items() if each == subject), _("Meeting edge"))
