"""Whatever a person sees went through the catalogue, and has room: on every screen, in any language, at any size."""

from __future__ import annotations

import gettext
import re
from collections.abc import Iterable, Iterator, Set
from pathlib import Path

import pytest

from tests.trainer.window.tongues.listening import Ear, clipped, crossed, cut_short
from tests.trainer.window.tongues.pseudo import pseudo, untranslated
from tests.trainer.window.tongues.screens import REAL, SCREENS, Stage
from trainer.language import PARTED
from trainer.window.languages import ENGLISH, catalogues, languages

SIZES = (((1280, 800), 1.0), ((1280, 800), 1.5), ((1280, 800), 2.0), ((1920, 1080), 1.0))
"""Windows [px] and sizes of text [share of the usual]."""

OFFERED = [code for code in languages() if code != ENGLISH]

NAMES = frozenset({"Gudgeon", "English", "HTML", "PDF", "M"})
"""Proper names, and the letter in the sign of a motor (IEC 60617, from memory)."""

UNITS = frozenset(
    {"A", "C", "Hz", "N", "Pa", "V", "W", "dB", "h", "kN", "kg", "m", "min", "mm", "ms", "s", "kΩ", "MΩ"}
)

OWN = ("the outer beam is dirty", "handover", "RuntimeError", "The active leaf turns the wrong way.")
"""A person's own words (notes of an apprentice and of an expert, a reason), and what a failed screen says to whoever
mends it."""

HOLDERS = ("the fitter", "the left-hand house")
"""Names under which a made-up person enrols transmitters."""

GAP = re.compile(r"\{[^{}]*\}")

FIXED = NAMES | UNITS
CONSOLE = ("gudgeon ", "attempts/", "out")
"""What begins so is typed at a console or names a file."""

ROAMS = frozenset({"wiring drawing"})
"""Drawings larger than their window: they are moved under it."""

POINTED = frozenset({"timeline"})
"""Drawings on which words about what is pointed at lie over the rest, and go with the pointer."""


def seen(ear: Ear, stage: Stage, walk: Iterator[str]) -> Iterator[str]:
    """Each step of a walk, with all that is written there in the ear."""
    for what in walk:
        ear.begin()
        stage.frame()
        yield what


def untold(stage: Stage, ear: Ear) -> list[str]:
    """Texts that were cut short and of which the rest isn't told where the pointer rests. Under an opened list
    nothing can be pointed at."""
    if stage.root.layer.kind == "popup":
        return []
    missing = []
    for whole, place in cut_short(list(ear.lines)).items():
        stage.hand.move(place.center)
        stage.root.advance(1.0)
        if whole not in stage.root.bubble.text:
            missing.append(f"{whole!r} at {tuple(place)} is cut short, and told is {stage.root.bubble.text!r}")
        stage.root.bubble.hide()
    stage.hand.move((1, 1))
    return missing


def faults(ear: Ear, stage: Stage) -> list[str]:
    """All that has no room on what is shown."""
    smeared = [each for each in ear.smeared if not any(ground in each for ground in ROAMS | POINTED)]
    return [*clipped(ear.lines, ROAMS), *crossed(ear.lines), *smeared, *untold(stage, ear)]


def foreign(ear: Ear) -> list[str]:
    """Texts with words that went through no catalogue."""
    texts = dict.fromkeys(line.whole for line in ear.lines if not line.whole.startswith(CONSOLE))
    return [text for text in texts if untranslated(text, FIXED) and not any(own in text for own in OWN)]


def walked(ear: Ear, stage: Stage, walk: Iterator[str], *, words: bool) -> dict[str, str]:
    """What is wrong on the way and where it was seen first; `words`: untranslated ones too."""
    found: dict[str, str] = {}
    for what in seen(ear, stage, walk):
        for wrong in [*(foreign(ear) if words else ()), *faults(ear, stage)]:
            found.setdefault(wrong, what)
    stage.app.leave_session()
    return found


@pytest.mark.slow
@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize(("size", "scale"), SIZES)
def test_longer_words_have_room_and_none_is_untranslated(ear, spoken, screen, size, scale) -> None:
    """In a language of longer words: nothing clipped, crossed or cut off for good, and every word through `_`."""
    spoken(pseudo)
    stage = Stage(size, scale)
    assert walked(ear, stage, SCREENS[screen](stage), words=True) == {}


@pytest.mark.slow
@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize(("size", "scale"), SIZES)
def test_english_has_room(ear, spoken, screen, size, scale) -> None:
    """The same in English."""
    stage = Stage(size, scale)
    assert walked(ear, stage, SCREENS[screen](stage), words=False) == {}


@pytest.mark.slow
@pytest.mark.parametrize("screen", SCREENS)
@pytest.mark.parametrize(("size", "scale"), SIZES)
@pytest.mark.parametrize("code", OFFERED)
def test_every_language_that_is_offered_has_room(ear, spoken, code, screen, size, scale) -> None:
    """The same in each language of a catalogue."""
    spoken(gettext.translation("gudgeon", catalogues(), [code]).gettext)
    stage = Stage(size, scale)
    assert walked(ear, stage, SCREENS[screen](stage), words=False) == {}


@pytest.mark.slow
@pytest.mark.parametrize("screen", REAL)
@pytest.mark.parametrize("scale", [1.0, 2.0])
def test_a_real_session_speaks_the_language(ear, spoken, sentences, screen, scale, tmp_path: Path) -> None:
    """What comes from the gate itself, its controller and its grading, on the screens of a real job; and translators
    were given all of it."""
    from trainer.grading.judge import Grader
    from trainer.session.choices import sites
    from trainer.session.desk import Desk

    asked: dict[str, None] = {}

    def speak(sentence: str) -> str:
        asked.setdefault(sentence)
        return pseudo(sentence)

    spoken(speak)
    stage = Stage((1280, 800), scale, Desk(Grader(), tmp_path))
    assert walked(ear, stage, REAL[screen](stage), words=True) == {}
    own = {*OWN, *HOLDERS, *(site.name for site in sites())}
    assert ungathered(asked, sentences | own) == []


def ungathered(asked: Iterable[str], given: Set[str]) -> list[str]:
    """Sentences that were asked for in another language and that no translator was given, neither whole nor, as names
    are, part by part. What holds gaps and signs alone needs no translation."""
    return [
        text
        for text in asked
        if untranslated(GAP.sub("", text), FIXED) and not {text} <= given and not set(text.split(PARTED)) <= given
    ]


def test_a_sentence_that_was_not_gathered_is_found() -> None:
    """The rule can fail."""
    given = frozenset({"outer beam", "common", "Open {what}."})
    assert ungathered(["Open {what}.", "outer beam, common", "3 mm"], given) == []
    assert ungathered(["outer beam, contact", "Close it."], given) == ["outer beam, contact", "Close it."]
