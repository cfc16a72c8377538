"""The work screen: controls that act while held, cautions before what would hurt, pace, keys, small windows."""

from __future__ import annotations

import pygame
import pytest

from sim.world.actions import CATALOGUE

HOLDS = [
    ("Open", "press", {"control": "open button"}),
    ("Stop", "press", {"control": "stop button"}),
    ("Key switch", "press", {"control": "key switch"}),
]


@pytest.mark.parametrize(("label", "kind", "given"), HOLDS)
def test_a_control_is_pressed_on_down_and_released_on_up(work, label, kind, given) -> None:
    """Press and release are two actions (law 5)."""
    place = work.hand.middle(work.hand.find("hold button", label))
    work.hand.down(place)
    assert (work.acts(kind), work.acts("release")) == ([given], [])
    work.frame()
    work.hand.up(place)
    assert work.acts("release") == [given]


def test_a_control_is_held_by_one_key(work) -> None:
    """Space holds it; letting the key go lets it go."""
    button = next(b for held, b in work.screen.controls.held.items() if held == "close button")
    work.app.root.set_focus(button)
    work.hand.key_down(pygame.K_SPACE)
    work.frame(5)
    assert work.session.held == ["close button"]
    work.hand.key_up(pygame.K_SPACE)
    assert work.session.held == []


@pytest.mark.parametrize("event", [pygame.WINDOWFOCUSLOST, pygame.WINDOWMINIMIZED, pygame.WINDOWLEAVE])
def test_losing_the_window_releases_what_is_held(work, event) -> None:
    """The session is told, whichever way the window went."""
    work.hand.down(work.hand.middle(work.hand.find("hold button", "Open")))
    assert work.session.held == ["open button"]
    pygame.event.post(pygame.event.Event(event))
    work.frame()
    assert work.session.held == []


def test_pausing_releases_what_is_held(work) -> None:
    """F9 holds time and lets go."""
    work.hand.down(work.hand.middle(work.hand.find("hold button", "Open")))
    work.hand.key(pygame.K_F9)
    work.frame()
    assert (work.session.held, work.session.paused) == ([], True)
    assert work.hand.find("button", "Go on")
    work.hand.key(pygame.K_F9)
    work.frame()
    assert not work.session.paused


def test_the_first_jog_asks_and_the_next_press_jogs(work) -> None:
    """A hold-to-run control can't be held through a question: it is asked once, then pressed again."""
    jog = work.screen.controls.held["jog active open"]
    work.hand.down(jog.rect.center)
    assert "one hand at the stop button" in work.hand.texts()
    assert work.acts("jog press") == []
    work.hand.up(jog.rect.center)
    work.hand.click("button", "Jog")
    work.frame()
    assert work.acts("jog press") == []
    work.hand.down(jog.rect.center)
    work.frame(10, wall_s=0.1)
    assert work.acts("jog press") == [{"leaf": "active", "direction": "open"}]
    assert work.session.angles[0] == pytest.approx(3.0, abs=0.4)
    work.hand.up(jog.rect.center)
    assert work.acts("jog release") == [{"leaf": "active"}]


def test_a_transmitter_is_pressed_and_released(work) -> None:
    """Its button names the tag and the number."""
    place = work.hand.middle(work.hand.find("hold button", "2"))
    work.hand.down(place)
    work.hand.up(place)
    assert work.acts("press transmitter") == [{"transmitter": "grey, two buttons", "button": 2, "distance_m": 5.0}]
    assert work.acts("release transmitter") == [{"transmitter": "grey, two buttons"}]


def test_an_action_with_a_caution_is_asked_and_not_now_means_not_now(work) -> None:
    """The focus starts on the harmless answer; only the other one does it."""
    work.page("Cabinet")
    work.session.mains = False
    work.frame()
    work.hand.click("button", "Restore the supply")
    assert "a gate that has power may move" in work.hand.texts()
    assert work.hand.focus == ("button", "Not now")
    work.hand.key(pygame.K_RETURN)
    assert work.acts("restore") == []
    work.hand.click("button", "Restore the supply")
    dialog = work.hand.find("dialog", "Restore the supply?")
    answer = next(t for t in _below(dialog) if t["role"] == "button" and t["label"] == "Restore the supply")
    work.hand.click_at(pygame.Rect(answer["rect"]).center)
    assert work.acts("restore") == [{}]


def _below(told):
    for child in told.get("children", ()):
        yield child
        yield from _below(child)


def test_swapping_leads_is_asked_about_only_while_a_source_is_on(work) -> None:
    """With both sources off there is nothing to be warned of."""
    work.screen.hands.do("swap motor leads", {"leaf": "active"})
    assert work.acts("swap motor leads") == []
    work.hand.key(pygame.K_ESCAPE)
    work.session.mains = work.session.battery = False
    work.frame()
    work.screen.hands.do("swap motor leads", {"leaf": "active"})
    assert work.acts("swap motor leads") == [{"leaf": "active"}]


def test_a_refusal_is_said_and_changes_nothing(work) -> None:
    """What the session refuses stands on the screen in its own words."""
    work.screen.hands.do("place body", {"body": "car", "x_m": 2.0, "y_m": 0.0})
    assert work.acts("place body") == []
    assert work.said() == ["A car does not fit into the opening beside the leaves."]


def test_pace_and_pages_have_keys(work) -> None:
    """Digits set the pace, Ctrl and a digit opens a page, Tab and F6 reach the rest."""
    work.hand.key(pygame.K_3)
    assert work.session.pace == 4.0
    work.hand.key(pygame.K_1)
    assert work.session.pace == 0.25
    work.hand.key(pygame.K_9, mod=pygame.KMOD_CTRL)
    assert work.hand.find("tabs", "folder")["value"] == "Why still"
    regions = set()
    for _ in range(6):
        work.hand.key(pygame.K_F6)
        focus = work.app.root.focus
        while focus is not None and focus.role != "region":
            focus = focus.parent
        regions.add(focus.label)
    assert {"top bar", "yard", "job folder", "time"} <= regions


def test_the_stop_button_is_in_reach_while_another_control_is_held(work) -> None:
    """S presses the stop button and, pressed again, lets it out; what is held meanwhile stays held."""
    button = work.screen.controls.held["open button"]
    work.app.root.set_focus(button)
    work.hand.key_down(pygame.K_SPACE)
    work.hand.key(pygame.K_s)
    work.frame()
    assert work.session.held == ["open button", "stop button"]
    work.hand.key(pygame.K_s)
    work.frame()
    assert work.session.held == ["open button"]


def test_waiting_is_an_action(work) -> None:
    """The menu's entries are the catalogue's."""
    work.hand.click("menu", "Wait until…")
    work.hand.click("option", "Fully open")
    longest = next(a.default for a in CATALOGUE["wait until"].arguments if a.name == "at_most_s")
    assert work.acts("wait until") == [{"what": "fully open", "at_most_s": longest}]


def test_the_top_bar_tells_where_what_and_how_it_stands(work) -> None:
    """Place, job, the customer's words, the clock and the supply."""
    work.session.let_pass(198.4)
    work.session.mains = False
    work.frame()
    texts = work.hand.texts()
    for words in (
        "Thistle Yard, cart entrance",
        "First run · learner · practice, draw 7",
        "Battery only",
        "0:03:18.4",
    ):
        assert words in texts
    work.session.battery = False
    work.frame()
    assert work.hand.find("button", "Isolated")


def test_the_supply_opens_the_cabinet(work) -> None:
    """From the state of the supply to where it is changed is one press."""
    work.hand.click("button", "⚡ Supply on")
    assert work.hand.find("tabs", "folder")["value"] == "Cabinet"


def test_a_dangerous_moment_is_shown_at_once_and_goes_by_itself(work) -> None:
    """The newest one stands over the plan for twenty seconds; the notebook keeps it."""
    work.session.alarms.append((work.session._us(), "An adult was struck: 412 N."))
    work.frame()
    assert "An adult was struck: 412 N." in work.hand.texts()
    work.session.let_pass(30.0)
    work.frame()
    assert "An adult was struck: 412 N." not in work.hand.texts()
    work.page("Notebook")
    assert "An adult was struck: 412 N." in work.hand.texts()


@pytest.mark.parametrize(
    ("size", "scale", "turns"),
    [
        ((1280, 800), 1.0, []),
        ((1920, 1080), 1.0, []),
        ((3840, 2160), 1.0, []),
        ((3840, 2160), 2.0, ["Yard", "Wiring", "Folder", "Time"]),
        ((1280, 800), 1.5, ["Yard", "Wiring", "Folder", "Time"]),
        ((1280, 800), 2.0, ["Yard", "Wiring", "Folder", "Time"]),
        ((1400, 620), 1.0, ["Yard", "Wiring", "Time"]),
    ],
)
def test_everything_stays_inside_the_window_at_any_size(open_job, size, scale, turns) -> None:
    """Nothing that can be pressed lies outside the window unless it is scrolled; small windows take turns."""
    work = open_job(size, scale=scale)
    shown = work.hand.all("radio row", "shown")
    assert [option["label"] for option in shown[0]["children"]] == turns if turns else shown == []
    screen = pygame.Rect((0, 0), size)
    for turn in turns or [""]:
        if turn:
            work.screen.turns.choose(turn)
            work.frame()
        for told in work.hand.all():
            if told["role"] in ("button", "menu", "radio row", "tabs", "drawing", "time strip", "dropdown"):
                assert screen.left <= told["rect"][0], told
                assert told["rect"][0] + told["rect"][2] <= screen.right, told
        for role, label in (("menu", "More"), ("button", "Pause"), ("radio row", "pace")):
            assert screen.contains(pygame.Rect(work.hand.find(role, label)["rect"]))


@pytest.mark.parametrize("scale", [1.0, 1.5, 2.0])
def test_targets_are_large_enough(open_job, scale) -> None:
    """Everything that can be pressed is at least 32 logical pixels high, or a row of a list."""
    work = open_job(scale=scale)
    least = round(31.5 * scale)
    small = [
        (told["role"], told["label"], told["rect"])
        for told in work.hand.all()
        if told["role"] in ("button", "hold button", "menu", "dropdown", "number entry", "text entry", "radio row")
        and 0 < told["rect"][3] < least
    ]
    assert small == []
