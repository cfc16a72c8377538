"""Between session, caption strip and loudspeaker: one ear for each session, one loudspeaker for the window."""

from __future__ import annotations

import threading
from typing import TYPE_CHECKING

from trainer.window.sound.ear import SILENCE, Ear

if TYPE_CHECKING:
    from trainer.session.view import View
    from trainer.window.preferences import Preferences
    from trainer.window.sound.speaker import Speaker


class Sounding:
    """What of a session can be heard in this window."""

    def __init__(self, speaker: Speaker | None) -> None:
        """Without a `speaker` there are captions alone."""
        self.speaker = speaker
        self._ear = Ear()

    def open_behind(self) -> None:
        """Open the loudspeaker in the background; called once, after the first frame."""
        if self.speaker is not None:
            threading.Thread(target=self.speaker.open, name="loudspeaker", daemon=True).start()

    def begin(self) -> None:
        """Another session, or none: nothing sounds on from the one before."""
        self._ear = Ear()
        if self.speaker is not None:
            self.speaker.play(SILENCE, 0.0)

    def hear(self, view: View, likes: Preferences) -> tuple[str, ...]:
        """Let one look at the session be heard; answers the new captions, none where they are off. Once a frame."""
        heard = self._ear.listen(view)
        if self.speaker is not None:
            self.speaker.play(heard, likes.volume if likes.sound else 0.0)
        return heard.captions if likes.captions else ()
