"""The time strip: hover reads, drag looks back, going on from there is asked about first."""

from __future__ import annotations

import pygame
import pytest

from trainer.window.kit.glyphs import Face
from trainer.window.kit.style import WARN_WASH


@pytest.fixture
def recorded(work):
    """A job in which the gate opened for twelve seconds."""
    work.free()
    work.session.do("press", {"control": "open button"})
    work.session.do("release", {"control": "open button"})
    work.session.let_pass(12.0)
    work.frame(2)
    return work


def at_second(work, second) -> tuple[int, int]:
    """The pixel of an instant on the strip."""
    strip = work.screen.time.strip
    style = work.app.root.style
    return (
        round(strip.rect.left + strip._left(style) + (second - strip.start_s) / strip._per_px(style)),
        strip.rect.centery,
    )


def test_hover_reads_the_values_of_that_instant(recorded) -> None:
    """Six degrees a second: at five seconds both leaves stood near thirty degrees."""
    readings = recorded.screen.time.strip.readings(5.0)
    assert readings[0].startswith("active 30.0°")
    assert readings[1].startswith("inactive 30.0°")
    assert "supply 26." in readings[2]


def test_dragging_looks_back_and_letting_go_stays_there(recorded) -> None:
    """The leaves are shown as they were; nothing in the session changed."""
    before = list(recorded.session.done)
    recorded.hand.down(at_second(recorded, 9.0))
    recorded.hand.move(at_second(recorded, 5.0))
    recorded.hand.up(at_second(recorded, 5.0))
    recorded.frame()
    assert recorded.session.shown == pytest.approx(5.0, abs=0.06)
    assert recorded.hand.find("leaf", "active")["value"].startswith(("29", "30"))
    assert "Looking at 0:0" in recorded.hand.texts()
    assert recorded.session.done == before


def test_values_are_read_where_the_drag_ended(recorded) -> None:
    """Not where it began: beside what is shown would stand what was read somewhere else."""
    begun, ended = at_second(recorded, 11.0), at_second(recorded, 2.0)
    recorded.hand.down(begun)
    recorded.hand.move(ended)
    recorded.hand.up(ended)
    recorded.frame()
    rows = range(recorded.screen.time.strip.rect.top, ended[1])
    for (x, _y), is_read in ((ended, True), (begun, False)):
        beside = {recorded.app.window.get_at((x + 12, row))[:3] for row in rows}
        assert (WARN_WASH in beside) == is_read, x


def test_time_does_not_pass_while_one_looks_back(recorded) -> None:
    """Frames go on, the clock does not."""
    recorded.session.look_at(3_000_000)
    now = recorded.session.now
    recorded.frame(5, wall_s=0.1)
    assert recorded.session.now == now


def test_going_on_from_the_past_is_asked_about(recorded) -> None:
    """The answer that keeps looking changes nothing; the other one goes on from there."""
    recorded.session.look_at(5_000_000)
    recorded.frame()
    recorded.hand.click("button", "Go on from here")
    recorded.hand.click("button", "Keep looking")
    assert recorded.session.now == pytest.approx(12.0)
    recorded.hand.click("button", "Go on from here")
    recorded.hand.click("button", "Go on from there")
    recorded.frame()
    assert recorded.session.now == pytest.approx(5.0)
    assert recorded.session.shown is None
    assert any("left branch" in said for said in recorded.said())


def test_an_assessed_attempt_only_looks(open_job) -> None:
    """There is no button to go on from the past, and the strip says why."""
    work = open_job(mode="assessed")
    work.session.let_pass(5.0)
    work.session.look_at(2_000_000)
    work.frame()
    assert work.hand.all("button", "Go on from here") == []
    assert work.hand.all("button", "Back to now")
    assert "can only be looked at" in work.hand.texts()


def test_arrows_look_back_by_steps_and_esc_comes_back(recorded) -> None:
    """A second; a tenth with Shift; ten with Ctrl; Home is the beginning, Esc is now."""
    recorded.app.root.set_focus(recorded.screen.time.strip)
    seen = []
    for key, mod in (
        (pygame.K_LEFT, 0),
        (pygame.K_LEFT, pygame.KMOD_SHIFT),
        (pygame.K_LEFT, pygame.KMOD_CTRL),
        (pygame.K_RIGHT, 0),
        (pygame.K_HOME, 0),
    ):
        recorded.hand.key(key, mod=mod)
        recorded.frame()
        seen.append(round(recorded.session.shown, 2))
    assert seen == [11.0, 10.9, 0.9, 1.9, 0.0]
    recorded.hand.key(pygame.K_ESCAPE)
    assert recorded.session.shown is None


def test_looking_back_lets_go_of_what_is_held(recorded) -> None:
    """A click on the strip while a control is held: the control is let go first (law 5)."""
    recorded.hand.down(recorded.hand.middle(recorded.hand.find("hold button", "Open")))
    assert recorded.session.held == ["open button"]
    recorded.hand.down(at_second(recorded, 5.0))
    assert recorded.session.held == []


def test_the_paper_moves_on_when_now_nears_the_edge(recorded) -> None:
    """After two minutes the last minute is in sight, and now with it."""
    recorded.session.let_pass(120.0)
    recorded.frame()
    strip = recorded.screen.time.strip
    assert strip.start_s < recorded.session.now < strip.start_s + strip.span_s
    recorded.screen.time._span("all")
    recorded.frame()
    assert strip.start_s == 0.0
    assert strip.span_s > recorded.session.now


def test_curves_have_their_colours_on_the_strip(recorded) -> None:
    """Pixels of the active leaf's curve lie on the way from shut to open, and none ahead of now."""
    from trainer.window.kit.style import GO

    strip, window = recorded.screen.time.strip, recorded.app.window
    left = at_second(recorded, 0.0)[0]
    now = at_second(recorded, 12.0)[0]

    def columns(x0, x1) -> int:
        rows = range(strip.rect.top + 3, strip.rect.top + strip.rect.height // 3)
        return sum(any(window.get_at((x, y))[:3] == GO for y in rows) for x in range(x0, x1))

    assert columns(left + 4, now - 4) > 0.9 * (now - left - 8)
    assert columns(now + 8, strip.rect.right - 8) == 0


def test_who_uses_the_keys_reads_values_at_the_instant_shown(recorded) -> None:
    """The strip says the instant and what was recorded there; a box on the strip shows the same."""
    from trainer.window.kit.style import WARN_WASH

    strip = recorded.screen.time.strip
    recorded.app.root.set_focus(strip)
    for _ in range(7):
        recorded.hand.key(pygame.K_LEFT)
        recorded.frame()
    told = recorded.hand.find("time strip", "time strip")["value"]
    assert told.startswith("0:05; ")
    assert "active 30.0°" in told
    x, y = at_second(recorded, 5.0)
    beside = {recorded.app.window.get_at((x + 12, row))[:3] for row in range(strip.rect.top, y)}
    assert WARN_WASH in beside


def test_letters_look_back_from_anywhere_and_play_what_was(recorded) -> None:
    """J a second back, L on, with Shift and Ctrl as the arrows; K plays on in the wall's time, and holds."""
    recorded.app.root.set_focus(None)
    seen = []
    for key, mod in (
        (pygame.K_j, 0),
        (pygame.K_j, pygame.KMOD_CTRL),
        (pygame.K_l, 0),
        (pygame.K_l, pygame.KMOD_SHIFT),
    ):
        recorded.hand.key(key, mod=mod)
        recorded.frame()
        seen.append(round(recorded.session.shown, 2))
    assert seen == [11.0, 1.0, 2.0, 2.1]
    recorded.hand.key(pygame.K_k)
    recorded.frame(6, wall_s=0.05)
    assert recorded.session.shown == pytest.approx(2.4, abs=0.06)
    assert recorded.hand.all("button", "Hold")
    recorded.hand.key(pygame.K_k)
    stood = recorded.session.shown
    recorded.frame(6, wall_s=0.05)
    assert recorded.session.shown == stood
    assert recorded.session.now == pytest.approx(12.0)


def test_a_stretch_that_is_watched_ends_where_it_was_to_end(recorded) -> None:
    """And a look elsewhere ends it at once."""
    recorded.screen.time.watch(3.0, 4.0)
    recorded.frame(30, wall_s=0.05)
    assert recorded.session.shown == pytest.approx(4.0)
    recorded.screen.time.watch(3.0, 9.0)
    recorded.frame(2, wall_s=0.05)
    recorded.hand.click_at(at_second(recorded, 8.0))
    recorded.frame(10, wall_s=0.05)
    assert recorded.session.shown == pytest.approx(8.0, abs=0.06)


def test_the_supply_has_a_row_of_its_own(recorded) -> None:
    """Its line stands where its volts say, of thirty; no other curve runs there."""
    strip, window = recorded.screen.time.strip, recorded.app.window
    top, bottom = strip._rows(recorded.app.root.style)["supply"]
    x = at_second(recorded, 6.0)[0]
    darkness = {y: sum(window.get_at((x, strip.rect.top + y))[:3]) for y in range(top, bottom - 1)}
    darkest = min(darkness, key=darkness.__getitem__)
    volts = float(strip.readings(6.0)[2].split()[1])
    assert darkness[darkest] < 600
    assert darkest == pytest.approx(bottom - 1 - volts / 30.0 * (bottom - top - 3), abs=1.5)


def test_large_text_cuts_nothing_off_the_controls_of_time(open_job) -> None:
    """At twice the size, looking back: the controls' words are whole, and the strip takes the height there is."""
    work = open_job(scale=2.0)
    work.session.let_pass(30.0)
    work.screen.turns.choose("Time")
    work.session.look_at(18_000_000)
    work.frame(3)
    style, panel = work.app.root.style, work.screen.time
    for role, label in (("button", "Play"), ("button", "Back to now"), ("button", "Go on from here")):
        place = pygame.Rect(work.hand.find(role, label)["rect"])
        assert place.width >= style.width(label, 14, Face.REGULAR) + style.px(8)
    for span in ("1 min", "30 min", "all"):
        assert pygame.Rect(work.hand.find("option", span)["rect"]).width >= style.width(span, 11, Face.REGULAR)
    assert panel.strip.rect.height > 0.5 * work.screen.middle.rect.height
    assert panel.strip.rect.bottom > work.app.window.get_height() - style.px(60)


@pytest.mark.parametrize("span", ["1 min", "all"])
@pytest.mark.parametrize(("size", "scale"), [((1280, 800), 1.0), ((1920, 1080), 1.3)])
def test_what_was_painted_piece_by_piece_is_what_is_painted_at_once(open_job, span, size, scale) -> None:
    """Frames add to the right what was recorded since; the picture is that of a strip painted anew, to the last
    pixel but for the smoothing of a slope where two pieces meet."""
    work = open_job(size, scale=scale)
    work.free()
    work.screen.time._span(span)
    strip = work.screen.time.strip
    kinds = ["press", "release"]
    for n in range(400):
        if n % 90 == 5:
            work.session.do(kinds[n // 90 % 2], {"control": "open button"})
        work.frame(wall_s=0.05 + 0.03 * (n % 3))
    key = strip._painted
    pieces = pygame.surfarray.array3d(strip._picture).astype(int)
    strip._painted = None
    work.frame()
    whole = pygame.surfarray.array3d(strip._picture).astype(int)
    assert strip._painted == key
    differs = (abs(pieces - whole).max(axis=2) > 24).sum()
    inked = (whole.sum(axis=2) < 600).sum()
    assert differs < inked / 200
