"""What is touched or tripped is seen at once: by shape and by word, not by colour alone."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import numpy as np
import pygame
import pytest

from trainer.session.view import View
from trainer.window.plan.guards import cuts
from trainer.window.plan.touches import contact_spot


def pressing(view: View, name: str, touching: str, force_n: float) -> View:
    """The same look with a leaf that presses on something."""
    leaves = tuple(
        replace(leaf, touching=touching, contact_n=force_n) if leaf.name == name else leaf for leaf in view.leaves
    )
    return replace(view, leaves=leaves)


def grey(work) -> np.ndarray:
    """The plan without its colours."""
    work.frame()
    plan = work.app.window.subsurface(work.screen.plan.rect)
    return pygame.surfarray.array3d(plan).astype(int) @ np.array([299, 587, 114]) // 1000


@pytest.fixture
def met(work):
    """An adult before the active leaf, and what is pressed on it [N]; answers the view that is drawn."""
    work.session.angles = [35.0, 0.0]
    work.session.do("place body", {"body": "adult", "x_m": 1.75, "y_m": 0.9})
    seen = work.session.observe()

    def show(force_n: float) -> View:
        view = pressing(seen, "active", "adult" if force_n else "", force_n)
        work.session.observe = lambda: view
        work.frame()
        return view

    return show


def test_a_touched_body_is_told_and_marked(work, met) -> None:
    """Words in the tree of widgets, and a star and a flag that are there in grey as well."""
    met(0.0)
    assert work.hand.find("body", "adult")["value"] is None
    assert not work.hand.all("contact")
    before = grey(work)
    met(212.0)
    assert work.hand.find("body", "adult")["value"] == "touched by the active leaf, 212 N"
    assert work.hand.find("contact", "active")["value"] == "212 N on adult"
    assert np.count_nonzero(abs(grey(work) - before) > 60) > 400


@pytest.mark.parametrize(("kind", "undo", "given"), [("press edge", "release edge", {"guard": "active edge"})])
def test_a_pressed_edge_is_marked_in_grey(work, kind: str, undo: str, given: dict[str, object]) -> None:
    """And no longer once it is let go."""
    before = grey(work)
    work.session.do(kind, given)
    assert np.count_nonzero(abs(grey(work) - before) > 60) > 400
    assert work.hand.find("drawing", "plan of the yard")
    work.session.do(undo, given)
    assert np.count_nonzero(abs(grey(work) - before) > 60) == 0


@pytest.mark.parametrize("name", ["active", "inactive"])
@pytest.mark.parametrize("degrees", [0.0, 50.0, 90.0])
@pytest.mark.parametrize("side", [-1.0, 1.0])
def test_the_arrow_stands_where_the_body_is(work, name: str, degrees: float, side: float) -> None:
    """A body is put 1.3 m along a leaf and 0.3 m to one side of it, by turning and mirroring in the plain (textbook);
    the touch is found there."""
    view = work.session.observe()
    turn = math.radians(degrees)
    x, y = 1.3 * math.cos(turn) - side * 0.3 * math.sin(turn), 1.3 * math.sin(turn) + side * 0.3 * math.cos(turn)
    at = (x, y) if name == "active" else (view.opening_m - x, y)
    work.session.do("place body", {"body": "child", "x_m": at[0], "y_m": at[1]})
    work.session.angles = [degrees, degrees]
    view = pressing(work.session.observe(), name, "child", 90.0)
    leaf = next(leaf for leaf in view.leaves if leaf.name == name)
    along, found = contact_spot(view, leaf)
    assert along == pytest.approx(1.3, abs=1e-6)
    assert found == side


def test_stops_are_told_without_alarm(work) -> None:
    """A leaf at its stop presses as it should: words and an arrow, no flag."""
    seen = work.session.observe()
    shown = {}
    for touching in ("closed stop", "other leaf"):
        view = pressing(seen, "active", touching, 300.0)
        work.session.observe = partial(replace, view)
        shown[touching] = grey(work)
        assert work.hand.find("contact", "active")["value"] == f"300 N on {touching}"
    assert np.count_nonzero(abs(shown["closed stop"] - shown["other leaf"]) > 60) > 300


@pytest.mark.parametrize(
    ("turn", "half_m"), [(0.0, 0.15), (90.0, 0.1), (45.0, 0.1 * math.sqrt(2.0)), (-45.0, 0.1 * math.sqrt(2.0))]
)
def test_a_beam_is_cut_where_a_turned_body_begins(work, turn: float, half_m: float) -> None:
    """The test body is 0.3 m by 0.2 m; a level line through its middle leaves it after half a side over the cosine of
    its turn, 0.1·√2 at 45° (textbook)."""
    work.session.do("place body", {"body": "test body", "x_m": 2.2, "y_m": -0.6, "turn_deg": turn})
    view = work.session.observe()
    beam = next(guard for guard in view.guards if guard.name == "outer beam")
    (x0, _y0), (x1, _y1) = beam.ends_xy_m
    (part,) = cuts(view, beam)
    assert x0 + part * (x1 - x0) == pytest.approx(2.2 - half_m, abs=1e-6)


def test_a_body_beside_a_beam_does_not_cut_it(work) -> None:
    """A van that lies along the opening 3 m before it is 1 m deep on either side of its middle, not 2.9 m."""
    view = work.session.observe()
    beam = replace(next(guard for guard in view.guards if guard.name == "outer beam"), tripped=True)
    work.session.do("place body", {"body": "van", "x_m": 2.2, "y_m": -3.0, "turn_deg": 90.0})
    assert cuts(work.session.observe(), beam) == []
    work.session.do("place body", {"body": "van", "x_m": 2.2, "y_m": -3.0, "turn_deg": 0.0})
    assert len(cuts(work.session.observe(), beam)) == 1
