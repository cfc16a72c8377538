"""The app: opens before anything is loaded, closes what it opened, takes pictures, tells when it is ready."""

from __future__ import annotations

import subprocess
import sys
import threading
from pathlib import Path

import pygame
import pytest

from trainer.window.app import App
from trainer.window.canned import CannedDesk

ROOT = Path(__file__).resolve().parents[3]


def test_ready_is_told_once_after_the_first_frame(capsys) -> None:
    """A journey test waits for the line instead of sleeping."""
    app = App(CannedDesk(), announce=True)
    assert capsys.readouterr().out == ""
    app.frame(0.0)
    app.frame(0.0)
    assert capsys.readouterr().out == "ready\n"


def test_the_compiler_is_loaded_behind_the_first_frame() -> None:
    """Not before it, in another thread, and only once."""
    called: list[str] = []
    done = threading.Event()

    def warm_up() -> None:
        called.append(threading.current_thread().name)
        done.set()

    app = App(CannedDesk(), warm_up=warm_up)
    assert called == []
    app.frame(0.0)
    assert done.wait(10)
    app.frame(0.0)
    assert called == ["warm-up"]


def test_a_compiler_that_cant_be_loaded_is_said_and_nothing_stops(caplog) -> None:
    """The window goes on in the slower form and says so."""
    begun = threading.Event()

    def warm_up() -> None:
        begun.set()
        raise RuntimeError("no such library")

    app = App(CannedDesk(), warm_up=warm_up)
    app.frame(0.0)
    assert begun.wait(10)
    for thread in threading.enumerate():
        if thread.name == "warm-up":
            thread.join(10)
    app.frame(0.0)
    assert [toast.text for toast in app.root.toasts.shown] == [
        "The compiler could not be loaded (no such library); time may pass slower."
    ]
    assert app.running
    assert "no such library" in caplog.text


def test_closing_the_window_closes_the_session(work) -> None:
    """Whatever is held is let go, and the session can be resumed."""
    work.hand.down(work.hand.middle(work.hand.find("hold button", "Open")))
    pygame.event.post(pygame.event.Event(pygame.QUIT))
    work.frame()
    assert (work.session.held, work.session.closed, work.app.running) == ([], True, False)


def test_a_picture_is_written_and_never_over_another(work, tmp_path) -> None:
    """F12 writes what the window shows."""
    work.app.pictures = tmp_path / "pictures"
    for _ in range(2):
        pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_F12, mod=0, unicode=""))
        work.frame()
    written = sorted(path.name for path in (tmp_path / "pictures").iterdir())
    assert written == ["gudgeon-001.png", "gudgeon-002.png"]
    assert pygame.image.load(tmp_path / "pictures" / written[0]).get_size() == (1280, 800)


def test_text_grows_by_keys_between_its_ends(work) -> None:
    """From 100 to 200 %, no further."""
    for _ in range(14):
        pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_PLUS, mod=pygame.KMOD_CTRL, unicode="+"))
        work.frame()
    assert work.app.appearance.now.text_scale == 2.0
    for _ in range(14):
        pygame.event.post(pygame.event.Event(pygame.KEYDOWN, key=pygame.K_MINUS, mod=pygame.KMOD_CTRL, unicode="-"))
        work.frame()
    assert work.app.appearance.now.text_scale == 1.0


def test_a_late_frame_counts_for_a_tenth_of_a_second_at_most(work) -> None:
    """Law 4: after a hiccup simulated time lags instead of jumping."""
    before = work.session.now
    work.frame(wall_s=5.0)
    assert work.session.now - before == pytest.approx(0.1)


def test_a_session_begun_elsewhere_can_be_opened(work) -> None:
    """A drill begins its session itself; the one that was open is left."""
    from trainer.window.canned import CannedSession

    other = CannedSession("assessed", 3)
    work.app.open(other)
    work.frame()
    assert work.session.closed
    assert "assessed, draw 3" in work.hand.texts()


def test_the_window_needs_no_more_than_it_shows() -> None:
    """What the front desk needs doesn't bring in the heavy libraries."""
    program = (
        "import sys, trainer.window.app\n"
        "heavy = {'numpy', 'numba', 'matplotlib', 'scipy', 'pydantic', 'simpy', 'ruamel.yaml', 'jinja2'}\n"
        "print(sorted(heavy & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True, cwd=ROOT)
    assert done.stdout.splitlines()[-1] == "[]"


def test_the_shipped_fonts_have_their_licence_beside_them() -> None:
    """The OFL asks for its text wherever the fonts go."""
    fonts = ROOT / "assets" / "fonts"
    assert {path.name for path in fonts.glob("*.otf")} >= {
        "B612-Regular.otf",
        "B612-Bold.otf",
        "B612Mono-Regular.otf",
    }
    assert "SIL OPEN FONT LICENSE" in (fonts / "LICENCE.txt").read_text(encoding="utf-8")
