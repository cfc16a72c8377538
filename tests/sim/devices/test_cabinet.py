"""The cabinet as a whole: names, hands on it, undo, keyframes."""

from __future__ import annotations

import itertools
import pickle
import random
import re

import pytest

from sim.controller.ports import BOARD_MINIMUM_V, COMMAND_TERMINALS, GUARD_TERMINALS
from sim.devices import rest
from sim.devices.boardio import COMMAND_NAMES
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.rails import CONVERTER_STARTS_V
from sim.errors import Refused
from sim.site import GUARD_NAMES, Site, with_changes
from sim.wiring.netlist import Undo, WiringError


def test_the_board_reads_in_the_order_of_the_controllers_terminals() -> None:
    """Guard and command inputs come in the order the ports promise, and the rails start with the board."""
    assert GUARD_NAMES == GUARD_TERMINALS
    assert COMMAND_NAMES == COMMAND_TERMINALS
    assert CONVERTER_STARTS_V == BOARD_MINIMUM_V


def test_every_terminal_stands_in_its_net(cabinet: Cabinet) -> None:
    """Each terminal's node is on the net it says, its name is its own, in plain words, and finds itself."""
    for name, terminal in cabinet.terminals.items():
        net = cabinet.mains if terminal.net == "mains" else cabinet.netlist
        assert any(terminal.node in (e.a, e.b) for e in net.elements.values()) or name.startswith(("yard", "lock"))
        assert re.fullmatch(r"[a-z ]+, [a-z ]+", name)
        assert cabinet.terminal(name) is terminal
    assert len({(t.net, t.node) for t in cabinet.terminals.values()}) == len(cabinet.terminals)


def test_terminals_that_drawings_and_jobs_rely_on(cabinet: Cabinet) -> None:
    """Names at the board and at the far end."""
    for name in (
        "active leaf motor, plus",
        "inactive leaf motor at the leaf, minus",
        "outer beam, contact",
        "outer beam receiver, contact",
        "outer beam plug, contact",
        "active edge, line",
        "active edge plug, line",
        "stop circuit, contact",
        "board supply, plus",
        "battery, plus",
        "isolator outlet, live",
    ):
        assert name in cabinet.terminals


def test_an_unknown_terminal_is_refused_with_the_nearest_name(cabinet: Cabinet) -> None:
    """A slip of the pen gets the right name back."""
    with pytest.raises(Refused, match="did you mean 'outer beam, contact'"):
        cabinet.terminal("outer beem, contact")


HANDS = {
    "isolate": lambda c: c.isolate(),
    "pull the battery link": lambda c: c.remove_battery_link(),
    "swap active leads": lambda c: c.swap_motor_leads(0),
    "swap inactive leads": lambda c: c.swap_motor_leads("inactive"),
    **{f"unplug {g}": (lambda c, g=g: c.unplug(g)) for g in GUARD_NAMES if g != "inner beam"},
    **{f"bridge {g}": (lambda c, g=g: c.bridge(g)) for g in GUARD_NAMES},
}


@pytest.mark.parametrize("hand", HANDS.values(), ids=HANDS)
def test_each_hand_can_be_taken_back_bit_for_bit(cabinet: Cabinet, hand) -> None:
    """Whatever is done to the wiring, its undo leaves state and every reading as they were, to the last bit."""
    cabinet.network((1, -1))

    def readings() -> tuple[object, ...]:
        volts = cabinet.node_volts("active leaf motor at the leaf, plus", (3.0, -2.0), (0.7, -0.4))
        return cabinet.state(), cabinet.guard_volts(), cabinet.network((1, -1)), cabinet.board_v(), volts

    before = readings()
    undo = hand(cabinet)
    assert readings() != before
    undo()
    assert readings() == before


def test_many_hands_taken_back_in_reverse(cabinet: Cabinet) -> None:
    """Random stacks of edits, readings between them, taken back from the top: nothing is left."""
    rng = random.Random(3)
    state = cabinet.state()
    for _ in range(20):
        undos = []
        for name in rng.sample(list(HANDS), 8):
            undos.append(HANDS[name](cabinet))
            if rng.random() < 0.5:
                cabinet.guard_volts()
        for undo in reversed(undos):
            undo()
        assert cabinet.state() == state


def test_doing_and_its_opposite_are_the_same_as_undoing(cabinet: Cabinet) -> None:
    """Plug after unplug, restore after isolate, link, bridge, a second swap: the cabinet is as it was."""
    state = cabinet.state()
    cabinet.unplug("outer beam")
    cabinet.plug("outer beam")
    cabinet.isolate()
    cabinet.restore()
    cabinet.remove_battery_link()
    cabinet.fit_battery_link()
    cabinet.bridge("active edge")
    cabinet.unbridge("active edge")
    cabinet.swap_motor_leads(1)
    cabinet.swap_motor_leads(1)
    assert cabinet.state() == state


@pytest.mark.parametrize("kept", [rest.MOST_KEPT, 2])
def test_what_is_remembered_is_what_would_be_found(
    cabinet: Cabinet, site: Site, monkeypatch: pytest.MonkeyPatch, kept: int
) -> None:
    """A cabinet that went the same ways many times reads, to the last bit, as a new one put into its state does,
    also where it remembers only a few of its nets."""
    monkeypatch.setattr(rest, "MOST_KEPT", kept)
    chance = random.Random(9)
    undos: list[Undo] = []
    for step in range(200):
        what = chance.randrange(7)
        if what == 0:
            cabinet.set_lamp(chance.random() < 0.5)
        elif what == 1:
            cabinet.set_emitters(chance.random() < 0.5)
        elif what == 2:
            cabinet.set_beam_blocked("outer beam", chance.random() < 0.5)
        elif what == 3:
            chance.choice((cabinet.press, cabinet.release))("open button")
        elif what == 4:
            cabinet.set_motor(0, chance.choice((0.9, 1.1)), chance.random() < 0.2)
        elif undos:
            undos.pop()()
        else:
            undos.append(chance.choice((cabinet.isolate, cabinet.remove_battery_link))())
        cabinet.guard_volts()
        if step % 4 == 0:
            signs = (chance.choice((-1, 0, 1)), chance.choice((-1, 0, 1)))
            other = build_cabinet(site)
            other.restore_state(cabinet.state())
            assert other.network(signs) == cabinet.network(signs)
            assert (other.guard_volts(), other.command_volts()) == (cabinet.guard_volts(), cabinet.command_volts())
            places = ("active leaf motor at the leaf, plus", "outer beam receiver, contact", "battery, plus")
            found = [[each.node_volts(p, (1.0, 2.0), (0.5, 0.3)) for p in places] for each in (cabinet, other)]
            assert found[0] == found[1]
            assert other.state() == cabinet.state()


def test_what_makes_no_sense_is_refused(cabinet: Cabinet) -> None:
    """A second time, a plug that isn't there, a control nobody fitted: refused in words, nothing changed."""
    state = cabinet.state()
    for act, words in (
        (lambda: cabinet.unplug("inner beam"), "no inner beam is fitted"),
        (lambda: cabinet.plug("outer beam"), "in already"),
        (lambda: cabinet.restore(), "closed already"),
        (lambda: cabinet.unbridge("outer beam"), "no link"),
        (lambda: cabinet.fit_battery_link(), "no battery link to fit"),
        (lambda: cabinet.bridge("side beam"), "no guard 'side beam'"),
        (lambda: cabinet.press("doorbell"), "no doorbell is fitted"),
    ):
        with pytest.raises(Refused, match=words):
            act()
    assert cabinet.state() == state


def test_what_one_sees(cabinet: Cabinet) -> None:
    """Isolator, link, plugs, bridges and leads as they stand."""
    assert cabinet.mains_on
    assert cabinet.battery_linked
    assert (cabinet.unplugged, cabinet.bridged) == ((), ())
    cabinet.unplug("outer beam")
    cabinet.bridge("inner beam")
    cabinet.swap_motor_leads(1)
    assert cabinet.unplugged == ("outer beam",)
    assert cabinet.bridged == ("inner beam",)
    assert (cabinet.leads_swapped(0), cabinet.leads_swapped("inactive")) == (False, True)


def test_a_keyframe_restores_everything(cabinet: Cabinet, site: Site) -> None:
    """A pickled state put into a fresh cabinet gives the same readings, and goes on the same way."""
    cabinet.set_beam_blocked("outer beam", True)
    cabinet.unplug("active edge")
    cabinet.set_lamp(True)
    cabinet.isolate()
    cabinet.swap_motor_leads(0)
    cabinet.network((1, -1))
    other = build_cabinet(site)
    other.restore_state(pickle.loads(pickle.dumps(cabinet.state())))
    assert other.state() == cabinet.state()
    for one in (cabinet, other):
        one.restore()
        one.set_beam_blocked("outer beam", False)
    assert other.state() == cabinet.state()
    assert other.guard_volts() == cabinet.guard_volts()
    assert other.network((1, 1)) == cabinet.network((1, 1))


def test_setters_say_whether_the_net_changed(cabinet: Cabinet) -> None:
    """True once, False when it stands so already, False where nothing is fitted."""
    assert (cabinet.set_lamp(True), cabinet.set_lamp(True), cabinet.set_lamp(False)) == (True, False, True)
    assert (cabinet.set_emitters(True), cabinet.set_emitters(False)) == (False, True)
    cabinet.set_emitters(True)
    assert cabinet.set_beam_blocked("outer beam", True)
    assert not cabinet.set_beam_blocked("outer beam", True)
    assert not cabinet.set_beam_blocked("inner beam", True)
    assert (cabinet.set_edge_pressed("active edge", True), cabinet.set_edge_pressed("active edge", True)) == (
        True,
        False,
    )
    assert (cabinet.set_stop_pressed(True), cabinet.set_stop_pressed(True)) == (True, False)
    assert (cabinet.press("open button"), cabinet.press("open button")) == (True, False)
    assert cabinet.release("open button")


def test_looking_changes_nothing(cabinet: Cabinet) -> None:
    """Readings of every kind leave the state as it was."""
    state = cabinet.state()
    names = list(cabinet.terminals)
    for red, black in itertools.pairwise(names):
        cabinet.volts(red, black)
        cabinet.mains_volts(red, black)
        cabinet.node_volts(red, (1.0, 2.0), (0.0, 0.0))
        cabinet.is_live(red)
    assert cabinet.state() == state


def test_a_board_that_falls_over_its_own_start_stays_off(cabinet: Cabinet) -> None:
    """A supply so weak that the board's start pulls it down and its stop lets it rise again: the rails stay down, the
    net comes to rest, and a sound supply brings them back."""
    cabinet.remove_battery_link()
    undo = cabinet.netlist.change("power supply", volts=20.0, ohm=60.0)
    accessory = ("accessory supply, plus", "accessory supply, minus")
    assert cabinet.volts(*accessory) == pytest.approx(0.0, abs=1e-9)
    assert 13.0 < cabinet.board_v() < 20.0
    undo()
    assert cabinet.volts(*accessory) == pytest.approx(24.0, abs=0.5)


def test_parts_that_never_come_to_rest_are_named(cabinet: Cabinet, monkeypatch: pytest.MonkeyPatch) -> None:
    """If two parts undid each other for ever, the cabinet would say so instead of hanging."""
    monkeypatch.setattr(cabinet._fitted, "react", lambda *_, **__: True)
    cabinet.isolate()
    with pytest.raises(WiringError, match="never come to rest"):
        cabinet.guard_volts()


def test_a_site_without_a_battery(site: Site) -> None:
    """No battery: no link, no terminals of one, and the mains alone feeds the board."""
    cabinet = build_cabinet(with_changes(site, {"supply.battery": None}))
    assert not cabinet.battery_linked
    assert "battery, plus" not in cabinet.terminals
    assert cabinet.board_v() > 27.0
    cabinet.isolate()
    assert cabinet.board_v() == pytest.approx(0.0, abs=1e-9)
    with pytest.raises(Refused, match="no battery link"):
        cabinet.remove_battery_link()


def test_elements_have_names_in_words_and_a_resistance(cabinet: Cabinet) -> None:
    """Faults name elements: plain words, no letters with numbers. Nothing is without resistance."""
    for element in (*cabinet.netlist.elements.values(), *cabinet.mains.elements.values()):
        assert re.fullmatch(r"[a-z ,\-]+", element.name), element.name
        assert element.ohm.real > 0.0
