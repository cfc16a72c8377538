"""The cabinet of a gate with one leaf: the board's second output is there, and nothing is connected to it."""

from __future__ import annotations

from pathlib import Path

import pytest

from sim.devices.cabinet import Cabinet, build_cabinet
from sim.errors import Refused
from sim.site import load_site

SITES = Path(__file__).parents[3] / "scenarios" / "sites"


@pytest.fixture
def cabinet() -> Cabinet:
    """A side entrance, wired."""
    return build_cabinet(load_site(SITES / "bellows_passage.yaml"))


def test_the_boards_terminals_are_there_and_nothing_else_of_that_leaf(cabinet: Cabinet) -> None:
    """Two screws for a motor and the edge's input belong to the board; no part, plug or core of the leaf exists."""
    mine = [name for name in cabinet.terminals if "inactive" in name]
    assert mine == [
        "inactive edge, line",
        "inactive edge, common",
        "inactive leaf motor, plus",
        "inactive leaf motor, minus",
    ]
    assert not [core.name for core in cabinet.cores() if "inactive" in core.name]
    assert not [plug for plug in cabinet.plugs if "inactive" in plug]


def test_the_second_post_is_the_closing_post(cabinet: Cabinet) -> None:
    """It is earthed as a post a leaf hangs on: 0.5 Ω at most to the earth bar (facts 8.1)."""
    assert "closing post, earth" in cabinet.terminals
    assert "inactive post, earth" not in cabinet.terminals
    ohm = abs(cabinet.mains.solution().network.resistance("closing post.earth", "earth bar.earth") or 1e9)
    assert ohm < 0.5


def test_an_output_that_is_driven_with_nothing_on_it_gives_its_volts_and_no_current(cabinet: Cabinet) -> None:
    """With its relay pulled in the stage stands across the open terminals; the motor that is there sees nothing."""
    assert cabinet.volts("inactive leaf motor, plus", "inactive leaf motor, minus") is None
    alone, beside = cabinet.network((1, 0)), cabinet.network((1, 1))
    assert (alone.closed, beside.closed) == ((True, False), (True, False))
    assert beside.alpha == pytest.approx((alone.alpha[0], 0.0), abs=1e-9)
    assert beside.rth == pytest.approx(alone.rth)
    volts = cabinet.node_volts("inactive leaf motor, plus", (0.0, 0.0), (0.0, 1.0))
    assert volts == pytest.approx(cabinet.board_v(), rel=1e-3)


def test_no_leads_can_be_swapped_where_none_are(cabinet: Cabinet) -> None:
    """The refusal says why."""
    with pytest.raises(Refused, match="there is no such leaf"):
        cabinet.swap_motor_leads("inactive")
    assert not cabinet.leads_swapped("inactive")


def test_no_counter_of_the_absent_leaf_is_moved(cabinet: Cabinet) -> None:
    """No encoder moves the second counter's line, on whatever supply."""
    first, second = cabinet.counting()
    assert (first.encoder, second.encoder) == (0, None)
