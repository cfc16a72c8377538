"""Help without a manual: the tour of the yard, the words of the trade and the keys; by F1 and the question mark."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

import pygame

from trainer.language import _

if TYPE_CHECKING:
    from trainer.window.kit.dialog import Answer
    from trainer.window.kit.root import Root
    from trainer.window.screens.work import WorkScreen


class Guidance:
    """Opens what helps. Nothing of it is imported before somebody asks: the first frame needs none."""

    def __init__(self, root: Root, work: Callable[[], WorkScreen | None]) -> None:
        """`work` answers the work screen of the open session, if there is one."""
        self.root = root
        self.work = work

    def entries(self) -> dict[str, Callable[[], None]]:
        """What stands in the menu of the work screen."""
        return {_("Show me round"): self.tour, _("Words of the trade…"): self.glossary, _("Keys…"): self.keys}

    def tour(self) -> None:
        """The tour of the yard, from its beginning."""
        work = self.work()
        if work is not None and self.root.layers[0].top is work:
            work.begin_tour()

    def glossary(self) -> None:
        """All words of the trade."""
        from trainer.window.glossary.dialog import open_glossary

        open_glossary(self.root)

    def keys(self) -> None:
        """The sheet of keys."""
        from trainer.window.screens.keys import open_keys

        answers: list[Answer] = [(_("Words of the trade"), "plain", self.glossary)]
        if self.work() is not None:
            answers.insert(0, (_("Show me round"), "plain", self.tour))
        open_keys(self.root, answers)

    def explain(self) -> None:
        """The words of the trade that stand where the person is; where there are none, the keys."""
        from trainer.window.glossary.dialog import explain
        from trainer.window.glossary.place import terms_asked

        if not explain(self.root, terms_asked(self.root)):
            self.keys()

    def shortcut(self, event: pygame.event.Event) -> bool:
        """F1 and the question mark, on every screen."""
        if event.key == pygame.K_F1:
            self.explain()
        elif event.unicode == "?":
            self.keys()
        else:
            return False
        return True
