"""The wiring drawing: what one sees, and nothing more."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.devices.drawing import drawn_cores, way_of
from sim.site import load_site
from sim.wiring.elements import Contact, Resistor

SITES = sorted((Path(__file__).resolve().parents[3] / "scenarios" / "sites").glob("*.yaml"))


@pytest.fixture
def bench() -> Cabinet:
    """The teaching bench."""
    return build_cabinet(load_site(next(site for site in SITES if site.stem == "reference_bench")))


@pytest.mark.parametrize("path", SITES, ids=lambda path: path.stem)
def test_every_line_joins_two_terminals(path: Path) -> None:
    """No line of a site as it was built ends inside a part or in the air, and no name comes twice."""
    cabinet = build_cabinet(load_site(path))
    cores = cabinet.cores()
    assert {
        core.name for core in cores if core.a not in cabinet.terminals or core.b not in cabinet.terminals
    } == set()
    assert len({core.name for core in cores}) == len(cores) > 10


def test_exchanged_cores_are_seen_at_their_screws(bench: Cabinet) -> None:
    """The two cores of a motor change places at the board; undone, they are back."""

    def plus_core() -> str:
        return next(core.a for core in bench.cores() if core.name == "active leaf motor, plus core")

    before = plus_core()
    undo = bench.swap_motor_leads(0)
    assert (before, plus_core()) == ("active leaf motor plug, plus", "active leaf motor plug, minus")
    undo()
    assert plus_core() == before


def test_plugs_links_and_switches_show_whether_they_are_closed(bench: Cabinet) -> None:
    """What a hand opens is drawn open."""

    def opened() -> set[str]:
        return {core.run for core in bench.cores() if not core.closed}

    assert opened() == set()
    bench.isolate()
    bench.remove_battery_link()
    bench.unplug("outer beam")
    assert opened() == {"isolator", "battery link", "outer beam plug"}


def test_a_bridge_is_a_line_of_its_own(bench: Cabinet) -> None:
    """A wire under two screws is seen by whoever opens the lid."""
    bench.bridge("stop circuit")
    laid = [(core.a, core.b) for core in bench.cores() if core.way == "bridge"]
    assert laid == [("stop circuit, contact", "stop circuit, common")]


def test_what_is_hidden_is_not_drawn(bench: Cabinet) -> None:
    """A poor core and a leak change nothing on the drawing: they are found with instruments."""
    before = bench.cores()
    bench.netlist.change("outer beam, contact core", ohm=1e6)
    bench.netlist.add(Resistor("leak of the loop to earth", "outer beam.contact", "board.common", 5e3))
    assert bench.cores() == before


def test_a_drawing_looks_through_the_screws() -> None:
    """An end that sits behind a screw joint belongs to the terminal on the other side of it."""
    cabinet = build_cabinet(load_site(SITES[0]))
    one, other = list(cabinet.terminals.values())[:2]
    cores = drawn_cores(
        [
            Contact("this screw, joint", one.node, "behind", True, 0.002),
            Resistor("cable, first core", "behind", other.node, 0.1),
            Resistor("cable, second core", "nowhere", other.node, 0.1),
        ],
        cabinet.terminals,
    )
    assert [(core.a, core.b) for core in cores] == [(one.name, other.name), ("", other.name)]


@pytest.mark.parametrize("name", ["board, takeover relay", "emitter supply, switch", "this screw, joint"])
def test_what_sits_inside_a_board_is_no_line(name: str) -> None:
    """Relays, switches of outputs and screws aren't lines."""
    assert way_of(Contact(name, "a", "b")) is None
