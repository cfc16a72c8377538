"""The languages of the window: English, and every one whose catalogue is there."""

from __future__ import annotations

from pathlib import Path
from typing import Final

from trainer.language import _, speak
from trainer.window.shipped import assets

ENGLISH: Final = "en"
DOMAIN: Final = "gudgeon"
OWN_NAMES: Final = {"en": "English", "es": "Español", "it": "Italiano"}
"""What a language calls itself; one that isn't here is called by its code."""


def catalogues() -> Path:
    """The folder of the catalogues: `CODE/LC_MESSAGES/gudgeon.mo` in it."""
    return assets() / "translations"


def languages(folder: Path | None = None) -> dict[str, str]:
    """Code and own name of each language that can be spoken, English first."""
    found = sorted(path.parts[-3] for path in (folder or catalogues()).glob(f"*/LC_MESSAGES/{DOMAIN}.mo"))
    return {code: OWN_NAMES.get(code, code) for code in (ENGLISH, *found)}


def take(code: str, folder: Path | None = None) -> str:
    """Speak a language from now on. When its catalogue can't be used English is spoken, and a sentence says so."""
    if code == ENGLISH:
        speak(str)
        return ""
    import struct
    from gettext import translation

    try:
        speak(translation(DOMAIN, folder or catalogues(), [code]).gettext, code)
    except (OSError, ValueError, struct.error) as error:  # a catalogue that is cut, or in another encoding
        speak(str)
        return _("The language '{code}' could not be read ({error}); the window speaks English.").format(
            code=code, error=error
        )
    return ""
