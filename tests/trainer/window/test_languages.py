"""Languages: those whose catalogues are there, spoken at once, and English when a catalogue is no good."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from pathlib import Path

import pytest

from trainer.language import _
from trainer.window import languages
from trainer.window.app import App
from trainer.window.canned import CannedDesk
from trainer.window.folder.folder import PAGES


def catalogue(told: dict[str, str]) -> bytes:
    """A compiled catalogue (the format is told in the GNU gettext manual, "The Format of GNU MO Files")."""
    told = {"": "Content-Type: text/plain; charset=UTF-8\n", **told}
    pairs = sorted((english.encode(), other.encode()) for english, other in told.items())
    at, words, tables = 28 + 16 * len(pairs), b"", [b"", b""]
    for which in (0, 1):
        for pair in pairs:
            tables[which] += struct.pack("<2I", len(pair[which]), at + len(words))
            words += pair[which] + b"\0"
    head = struct.pack("<7I", 0x950412DE, 0, len(pairs), 28, 28 + 8 * len(pairs), 0, at)
    return head + tables[0] + tables[1] + words


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """A folder of catalogues with a made-up one; English is spoken again afterwards."""
    home = tmp_path / "it" / "LC_MESSAGES"
    home.mkdir(parents=True)
    (home / "gudgeon.mo").write_bytes(catalogue({"Settings…": "Impostazioni…", "Settings": "Impostazioni"}))
    monkeypatch.setattr(languages, "catalogues", lambda: tmp_path)
    yield tmp_path
    languages.take("en")


def test_english_is_always_there_and_others_by_their_own_name(folder) -> None:
    """The list is read from the catalogues that are there."""
    assert languages.languages() == {"en": "English", "it": "Italiano"}
    assert languages.languages(folder / "nowhere") == {"en": "English"}


def test_a_language_is_spoken_until_another_is(folder) -> None:
    """What isn't in the catalogue stays English."""
    assert languages.take("it") == ""
    assert (_("Settings"), _("A sentence of no catalogue")) == ("Impostazioni", "A sentence of no catalogue")
    assert languages.take("en") == ""
    assert _("Settings") == "Settings"


def test_nothing_stays_nothing(folder) -> None:
    """A catalogue keeps its own header under the empty sentence."""
    languages.take("it")
    assert _("") == ""


@pytest.mark.parametrize("broken", [None, b"", b"nonsense", b"\xde\x12\x04\x95\x00\x00"])
def test_a_catalogue_that_cant_be_read_is_told_and_english_spoken(folder, broken) -> None:
    """One that isn't there, an empty one, one that is cut."""
    file = folder / "it" / "LC_MESSAGES" / "gudgeon.mo"
    file.unlink()
    if broken is not None:
        file.write_bytes(broken)
    assert "speaks English" in languages.take("it")
    assert _("Settings") == "Settings"


def test_the_window_speaks_another_language_at_once(folder, stage) -> None:
    """The screen is made again, and the settings stay open."""
    app = App(CannedDesk(), (1280, 800))
    hand = stage()
    hand.root = app.root
    app.frame(0.0)
    hand.click("button", "Settings…")
    hand.click("dropdown", "language")
    hand.click("option", "Italiano")
    app.frame(0.0)
    assert hand.all("dialog", "Impostazioni")
    assert hand.all("button", "Impostazioni…")
    assert app.appearance.now.language == "it"


def test_a_live_session_goes_on_in_another_language(folder, work) -> None:
    """The same session at the same line and instant; page, instrument, leads, zoom and span stay; and back again."""
    work.free()
    work.session.do("press", {"control": "open button"})
    work.session.let_pass(3.0)
    work.page("Instruments")
    page = work.screen.folder.page
    page.shelf.choose("multimeter")
    page.bench.put("board supply, plus", "red")
    work.screen.plan.port.zoom = 2.0
    work.screen.time.spans.choose("5 min")
    work.screen.show_wiring(True)
    work.frame()
    before, line, now, done = work.session, work.session.line, work.session.now, list(work.session.done)
    for code, settings in (("it", "Impostazioni"), ("en", "Settings")):
        screen = work.screen
        work.app.open_settings()
        work.app.appearance.prefer(language=code)
        work.frame()
        assert work.screen is not screen
        assert work.hand.all("dialog", settings)
        assert work.app.session is before
        assert not before.closed
        assert (before.line, before.now) == (line, now)
        assert [act for act in before.done if act[0] != "release all"] == done
        assert work.screen.folder.opened == PAGES[4] == "Instruments"
        assert work.screen.folder.bench.tool == "multimeter"
        assert work.screen.folder.bench.red == "board supply, plus"
        assert work.screen.plan.port.zoom == 2.0
        assert work.screen.time.strip.span_s == 300.0
        assert work.screen.wired
        work.app.root.close_layer()
