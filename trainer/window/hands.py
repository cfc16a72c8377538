"""The one way from a widget to the session: asks a caution first, does the action, says what came of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING

from trainer.language import _
from trainer.window.cautions import ONCE, caution_for
from trainer.window.kit.dialog import caution
from trainer.window.words import action_words, first_upper

if TYPE_CHECKING:
    from trainer.session.view import Reply, View
    from trainer.window.doors import WorkSession
    from trainer.window.kit.root import Root


HELD = frozenset({"press", "jog press", "press transmitter"})
"""Seen on the button itself: nothing has to be said when they are accepted."""


class Hands:
    """Does what the widgets of the work screen ask."""

    def __init__(self, session: WorkSession, root: Root) -> None:
        self.session = session
        self.root = root
        self.view: View = session.observe()
        """The latest look; renewed by the work screen once a frame."""
        self._warned: set[str] = set()

    def do(
        self, kind: str, arguments: Mapping[str, object] | None = None, then: Callable[[], None] | None = None
    ) -> bool:
        """Do an action, now or after its caution was answered; True when it was accepted now."""
        given = dict(arguments or {})
        told = caution_for(kind, given, self.view)
        if not told or kind in self._warned:
            return self._now(kind, given, then)
        words = (_("{act}?").format(act=action_words(kind)), action_words(kind), _("Not now"))
        self.root.open_dialog(caution(told, lambda: self._confirmed(kind, given, then), lambda: None, words))
        return False

    def _confirmed(self, kind: str, given: dict[str, object], then: Callable[[], None] | None) -> None:
        if kind in ONCE:
            # The button was let go to answer; it has to be pressed again.
            self._warned.add(kind)
            self.root.toast(_("Now press and hold."))
            return
        self._now(kind, given, then)

    def _now(self, kind: str, given: dict[str, object], then: Callable[[], None] | None) -> bool:
        return self.told(self.session.do(kind, given), then, quiet=kind in HELD)

    def told(self, reply: Reply, then: Callable[[], None] | None = None, quiet: bool = False) -> bool:
        """Say what came of something; True when it was accepted. Quiet: only a refusal is said."""
        if reply.text and not (quiet and reply.accepted):
            self.root.toast(first_upper(_(reply.text)), bad=not reply.accepted)
        if reply.accepted and then is not None:
            then()
        return reply.accepted

    def press(self, kind: str, arguments: Mapping[str, object]) -> bool:
        """Begin to hold a control; False when it was refused or asked about."""
        return self.do(kind, arguments)

    def let_go(self, kind: str, arguments: Mapping[str, object]) -> None:
        """Let a control go: never asked about, and a refusal (it was let go already) is no news."""
        self.session.do(kind, dict(arguments))
