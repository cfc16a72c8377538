"""The question before an attempt ends as it stands: that is for good, so it is asked about once."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.kit.dialog import Answer, Dialog
from trainer.window.kit.label import Note
from trainer.window.kit.style import WARN, WARN_WASH

if TYPE_CHECKING:
    from trainer.window.kit.root import Root


def ask_to_finish(root: Root, finish: Callable[[], None]) -> None:
    """Ask, and `finish` when the answer is yes."""
    told = Note(
        _("The attempt ends here and is graded: nothing is handed over, nothing can be added."), WARN, WARN_WASH
    )
    answers: list[Answer] = [(_("Finish"), "main", finish), (_("Not now"), "plain", lambda: None)]
    root.open_dialog(Dialog(_("Finish as it stands?"), [told], answers))
