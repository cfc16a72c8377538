"""Safety edges as the board reads them: several profiles, water, dead parts, and an edge that speaks by radio."""

from __future__ import annotations

import pytest

from sim.controller.guards import line_ohms
from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.edge import water_ohm
from sim.site import GUARD_NAMES, Edge, Site, with_changes


def ohms(cabinet: Cabinet, guard: str) -> float | None:
    """The line as the board takes it [Ω]; None when it is open."""
    return line_ohms(cabinet.guard_volts()[GUARD_NAMES.index(guard)])


def built(site: Site, **edge: object) -> Cabinet:
    return build_cabinet(with_changes(site, {f"guards.active_edge.{key}": value for key, value in edge.items()}))


@pytest.mark.parametrize("profiles", [1, 2, 3])
def test_in_series_with_one_resistor_they_read_as_one(site: Site, profiles: int) -> None:
    """8.2 kΩ clear, next to nothing pressed, open when any joining core breaks (facts 2.2)."""
    cabinet = built(site, profiles=profiles)
    assert ohms(cabinet, "active edge") == pytest.approx(8200.0, rel=0.01)
    cabinet.set_edge_pressed("active edge", True)
    assert ohms(cabinet, "active edge") == pytest.approx(0.0, abs=1000.0)
    cabinet.set_edge_pressed("active edge", False)
    for number in range(2, profiles + 1):
        undo = cabinet.netlist.remove(f"active edge, joining core {number}")
        assert ohms(cabinet, "active edge") is None
        undo()


@pytest.mark.parametrize(
    ("wiring", "wanted", "broken"),
    [
        ("in series, a resistor each", 16_400.0, None),
        ("in parallel, a resistor each", 4_100.0, 8_200.0),
    ],
)
def test_wired_wrongly_they_read_wrong(site: Site, wiring: str, wanted: float, broken: float | None) -> None:
    """Two resistors in series are 16.4 kΩ, in parallel 4.1 kΩ; and in parallel a break reads like a sound edge."""
    cabinet = built(site, profiles=2, wiring=wiring)
    assert ohms(cabinet, "active edge") == pytest.approx(wanted, rel=0.01)
    cabinet.netlist.remove("active edge, joining core 2")
    found = ohms(cabinet, "active edge")
    assert found is None if broken is None else found == pytest.approx(broken, rel=0.01)


def test_water_lowers_the_line_and_goes_again(site: Site) -> None:
    """More water, fewer ohms; dried, everything is as before to the bit."""
    cabinet = built(site)
    before = cabinet.netlist.key
    levels = []
    for water in (0.05, 0.2, 0.8):
        assert cabinet.soak_edge("active edge", water_ohm(water, 0.5))
        levels.append(ohms(cabinet, "active edge"))
    assert [round(each) for each in levels if each is not None] == sorted(
        (round(x or 0) for x in levels), reverse=True
    )
    assert 900.0 < (levels[-1] or 0.0) < 5000.0
    assert water_ohm(0.0, 0.5) is None
    assert cabinet.soak_edge("active edge", None)
    assert not cabinet.soak_edge("active edge", None)
    assert cabinet.netlist.key == before


def test_a_part_reacts_or_is_dead() -> None:
    """Reacts where any of what presses is on a live part; a body taller than the dead part is felt."""
    torn = Edge(bottom_m=0.1, top_m=1.8, dead_from_m=0.5, dead_to_m=0.9)
    assert [torn.reacts(at, at) for at in (0.05, 0.3, 0.7, 1.2, 1.9)] == [False, True, False, True, False]
    assert torn.reacts(0.0, 1.7)
    assert not torn.reacts(0.6, 0.8)
    assert Edge().reacts(0.0, 0.0)


# -- by radio ------------------------------------------------------------------------------------------


@pytest.fixture
def radio(site: Site) -> Cabinet:
    """The site with a radio link on the inactive leaf's edge."""
    return build_cabinet(with_changes(site, {"guards.inactive_edge.radio": {}}))


def test_a_radio_edge_reads_like_a_wired_one(radio: Cabinet) -> None:
    """8.2 kΩ clear, next to nothing pressed, and open when its heartbeat stays away or its own line breaks."""
    assert ohms(radio, "inactive edge") == pytest.approx(8200.0, rel=0.01)
    assert radio.set_edge_pressed("inactive edge", True)
    assert ohms(radio, "inactive edge") == pytest.approx(0.0, abs=100.0)
    radio.set_edge_pressed("inactive edge", False)
    assert radio.set_edge_heard("inactive edge", False)
    assert ohms(radio, "inactive edge") is None
    assert radio.set_edge_heard("inactive edge", True)
    radio.netlist.remove("inactive edge, end resistor")
    assert ohms(radio, "inactive edge") is None


def test_its_receiver_needs_its_feed(radio: Cabinet) -> None:
    """Without the accessory supply its relays fall: the line is open."""
    radio.unplug("accessory supply")
    assert ohms(radio, "inactive edge") is None


def test_its_cell_can_be_measured(radio: Cabinet, site: Site) -> None:
    """3 V and more when fresh, below 2.6 V when flat (facts 8.4), at the cell's own terminals."""
    ends = ("inactive edge transmitter cell, plus", "inactive edge transmitter cell, minus")
    fresh = radio.volts(*ends)
    assert fresh is not None
    assert 3.0 <= fresh <= 3.6
    key = radio.netlist.key
    flat = with_changes(radio.site, {"guards.inactive_edge.radio.charge": 0.05})
    whole = radio.site
    radio.refit(flat)
    low = radio.volts(*ends)
    assert low is not None
    assert low < 2.6
    radio.refit(whole)
    assert radio.netlist.key == key


# -- stop circuit --------------------------------------------------------------------------------------


@pytest.mark.parametrize("buttons", [1, 2, 3])
def test_any_stop_button_opens_the_loop(site: Site, buttons: int) -> None:
    """Several in series: closed at rest, open with any of them in, and with any core between them broken."""
    cabinet = build_cabinet(with_changes(site, {"guards.stop_circuit.buttons": buttons}))
    stop = GUARD_NAMES.index("stop circuit")
    names = ("stop button", "second stop button", "third stop button")[:buttons]
    assert cabinet.guard_volts()[stop] < 1.0
    for name in names:
        undo = cabinet.netlist.change(f"{name}, contact", closed=False)
        assert cabinet.guard_volts()[stop] > 20.0
        undo()
    for name in names[1:]:
        undo = cabinet.netlist.remove(f"stop circuit, core to the {name}")
        assert cabinet.guard_volts()[stop] > 20.0
        undo()
