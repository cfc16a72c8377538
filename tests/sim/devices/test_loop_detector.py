"""The presence loop and its detector: metal calls, people don't; feed, break and tuning."""

from __future__ import annotations

import pytest

from sim.devices.boardio import COMMAND_NAMES
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.loop import UNDERSIDES, missing_share
from sim.errors import Refused
from sim.site import PresenceLoop, Site, with_changes

LOOP = PresenceLoop()


@pytest.fixture
def cabinet(site: Site) -> Cabinet:
    """A site with a loop on the timer contact's input, tuned with nobody there."""
    cabinet = build_cabinet(with_changes(site, {"access.loop": {}}))
    cabinet.set_loop(0.0)
    return cabinet


def called(cabinet: Cabinet) -> bool:
    """Whether the detector's contact closes its command input."""
    return cabinet.command_volts()[COMMAND_NAMES.index("timer contact")] < 12.0


def test_a_car_calls_and_leaves(cabinet: Cabinet) -> None:
    """A car over the loop closes the input; gone, it opens again, with some hysteresis in between."""
    assert not called(cabinet)
    assert cabinet.set_loop(missing_share(LOOP, [("car", 1.0)]))
    assert called(cabinet)
    assert not cabinet.set_loop(LOOP.sensitivity * 0.7)
    assert called(cabinet)
    assert cabinet.set_loop(LOOP.sensitivity * 0.3)
    assert not called(cabinet)


@pytest.mark.parametrize("kind", ["adult", "child", "dog", "pram", "test body"])
def test_it_never_sees_people(kind: str) -> None:
    """Whoever has no sheet of metal underneath takes nothing, however many stand there."""
    assert kind not in UNDERSIDES
    assert missing_share(LOOP, [(kind, 1.0)] * 10) == 0.0


def test_more_metal_takes_more() -> None:
    """More cover, more missing; a van rides higher than a car and takes less; a bicycle hardly anything."""
    shares = [missing_share(LOOP, [("car", part)]) for part in (0.0, 0.25, 0.5, 1.0)]
    assert shares == sorted(shares)
    assert 0.0 < missing_share(LOOP, [("van", 1.0)]) < shares[-1]
    assert missing_share(LOOP, [("bicycle", 0.3)]) < shares[1] / 10.0


def test_a_longer_feeder_makes_it_less_sensitive() -> None:
    """The feeder's inductance dilutes what the loop loses."""
    near, far = (missing_share(PresenceLoop(feeder_m=m), [("car", 1.0)]) for m in (5.0, 100.0))
    assert far < 0.8 * near


@pytest.mark.parametrize("element", ["presence loop, turns", "presence loop, feeder start core"])
def test_broken_it_sees_nothing(cabinet: Cabinet, element: str) -> None:
    """The oscillator doesn't start: no call, and it can't be tuned."""
    undo = cabinet.netlist.change(element, ohm=1e9)
    assert not cabinet.loop_runs()
    cabinet.set_loop(0.05)
    assert not called(cabinet)
    with pytest.raises(Refused, match="can't be tuned"):
        cabinet.tune_loop()
    undo()
    assert cabinet.loop_runs()
    assert called(cabinet)


def test_without_feed_it_forgets_and_tunes_to_what_it_finds(cabinet: Cabinet) -> None:
    """Switched on under a car, it takes the car for nobody; when the car drives off, for the new nothing."""
    cabinet.unplug("accessory supply")
    cabinet.set_loop(0.05)
    assert cabinet.loop is not None
    assert cabinet.loop.tuned is None
    cabinet.plug("accessory supply")
    cabinet.set_loop(0.05)
    assert cabinet.loop.tuned == 0.05
    assert not called(cabinet)
    cabinet.set_loop(0.0)
    cabinet.loop.follow()
    cabinet.set_loop(0.05)
    assert called(cabinet)


def test_reset_takes_what_is_there_for_nobody(cabinet: Cabinet) -> None:
    """The usual cure of a detector that holds, with whatever holds it still there."""
    cabinet.set_loop(0.005)
    assert called(cabinet)
    assert cabinet.loop is not None
    assert cabinet.loop.shift == pytest.approx(-0.005)
    assert cabinet.tune_loop()
    assert not called(cabinet)


def test_it_is_kept_and_comes_back(cabinet: Cabinet, site: Site) -> None:
    """Presence and tuning are in the cabinet's state."""
    cabinet.set_loop(0.01)
    other = build_cabinet(cabinet.site)
    other.restore_state(cabinet.state())
    assert other.state() == cabinet.state()
    assert called(other)


def test_the_plug_takes_the_loop_off(cabinet: Cabinet) -> None:
    """Loop and feeder are under an ohm at the withdrawn plug, and the detector doesn't swing without them."""
    cabinet.unplug("presence loop")
    ohm = cabinet.loop_ohm()
    assert ohm is not None
    assert 0.5 < ohm < 5.0
    assert not cabinet.loop_runs()


def test_where_none_is_fitted_there_is_none(site: Site) -> None:
    """No part, no terminal, nothing to tune."""
    bare = build_cabinet(site)
    assert bare.loop is None
    assert not [name for name in bare.terminals if "loop" in name]
    assert not bare.set_loop(0.05)
    with pytest.raises(Refused, match="no presence loop"):
        bare.tune_loop()
