"""Families of acts that bring the gate where something matters, and have it happen there.

A phrase of `draws` is one thing that may happen at any time. A scene is several in the one order in which they mean
something: a movement, what comes in its way, and what follows. Searches that look for one promise begin with one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Final

from hypothesis import strategies as st

from sim.bench.proof.case import Step
from sim.bench.proof.choosing import numbers, pick
from sim.controller.settings import Value
from sim.site import Site

Steps = tuple[Step, ...]
Phrases = st.SearchStrategy[Steps]

_SOON = pick((0.1, 0.02, 0.05, 0.3, 0.6, 1.0, 2.0))
_ON_THE_WAY = numbers(2, 60).map(lambda quarters: quarters / 4.0)
"""A movement is under way, and both leaves mostly."""

_NOTICED = pick((0.3, 0.2, 0.4, 0.6, 0.1))
"""A contact has been noticed, and the leaf begins to go back."""

_WHILE = numbers(1, 16).map(lambda halves: halves / 2.0)


def step(act: str, seconds: float, wait: str = "", **arguments: Value) -> Step:
    """One act with its arguments, what is waited for after it, and the time after that [s]."""
    return Step(act, tuple(arguments.items()), wait, seconds)


def pressed(control: str, seconds: float, wait: str = "") -> Steps:
    """A control is pressed for a tenth of a second."""
    return step("press", 0.1, control=control), step("release", seconds, wait, control=control)


def _opening(seconds: float) -> Steps:
    return pressed("open button", seconds, "it opens")


def _closing(seconds: float) -> Steps:
    return (*pressed("open button", 1.0, "fully open"), *pressed("close button", seconds, "it closes"))


@st.composite
def _moving(draw: st.DrawFn) -> Steps:
    """The gate opens or closes, and has come some way."""
    return (_closing if draw(st.booleans()) else _opening)(draw(_ON_THE_WAY))


@st.composite
def _opens_a_little(draw: st.DrawFn, site: Site) -> Steps:
    return _opening(draw(_ON_THE_WAY))


@st.composite
def _guard(draw: st.DrawFn, site: Site, *kinds: str) -> tuple[Step, Step]:
    """A fitted guard of these kinds trips for a while."""
    fitted = [name for name, there in site.guards.fitted.items() if there and name.split()[-1] in kinds]
    guard = draw(pick(fitted))
    acts = ("cover beam", "uncover beam") if guard.endswith("beam") else ("press edge", "release edge")
    return step(acts[0], draw(_WHILE), guard=guard), step(acts[1], draw(_WHILE), guard=guard)


@st.composite
def _guard_then_command(draw: st.DrawFn, site: Site) -> Steps:
    """A guard trips while the gate rests, open or closed, and somebody wants it to move all the same."""
    opened = pressed("open button", 1.0, "fully open") if draw(st.booleans()) else ()
    trips, clears = draw(_guard(site, "beam", "edge"))
    command = draw(pick(("open button", "close button", "step button")))
    return (*opened, trips, *pressed(command, draw(_WHILE)), clears)


@st.composite
def _beam_then_opening(draw: st.DrawFn, site: Site) -> Steps:
    """Something is in a beam while somebody opens the shut gate; it goes away much later."""
    trips, clears = draw(_guard(site, "beam"))
    return (replace(trips, seconds=2.0 + trips.seconds), *pressed("open button", 8.0 + draw(_WHILE)), clears)


@st.composite
def _on_the_way(draw: st.DrawFn, site: Site, *kinds: str) -> Steps:
    """A guard of these kinds trips while the gate moves, and clears again."""
    return (*draw(_moving()), *draw(_guard(site, *kinds)))


@st.composite
def _while_closing(draw: st.DrawFn, site: Site, *kinds: str) -> Steps:
    """A guard of these kinds trips while the gate closes, clears again, and nothing is done until the gate rests."""
    trips, clears = draw(_guard(site, *kinds))
    quiet = step("wind", 2.0, "the gate rests", wind_m_s=0.0)
    return (*_closing(draw(_ON_THE_WAY)), trips, clears, quiet)


@st.composite
def _stop_on_the_way(draw: st.DrawFn, site: Site) -> Steps:
    """The stop button is struck while the gate moves, and pulled out again."""
    struck = step("press", draw(_WHILE), control="stop button")
    return (*draw(_moving()), struck, step("release", draw(_WHILE), control="stop button"))


@st.composite
def _edge_then_stop(draw: st.DrawFn, site: Site) -> Steps:
    """An edge is pressed while the gate moves, and the stop button is struck right after that."""
    trips, clears = draw(_guard(site, "edge"))
    pressing = replace(trips, seconds=draw(_SOON))
    return (*draw(_moving()), pressing, step("press", 3.0, control="stop button"), clears)


def _in_the_way(draw: st.DrawFn, site: Site, seconds: float = 0.1, wait: str = "") -> Step:
    """Something stands where the leaves meet, or where one of them swings."""
    x = draw(pick((0.6, 0.4, 0.5, 0.3, 0.7))) * site.opening_width_m
    y = draw(pick((0.4, 0.3, 0.6, 1.0)))
    body = draw(pick(("adult", "test body")))
    return step("place body", seconds, wait, body=body, x_m=round(x, 2), y_m=y)


@st.composite
def _body_in_the_way(draw: st.DrawFn, site: Site) -> Steps:
    """The closing leaves meet a body; nothing else happens for a while."""
    quiet = step("wind", 3.0, "the gate rests", wind_m_s=0.0)
    return (*_closing(draw(_SOON)), _in_the_way(draw, site, 8.0, "something is met"), quiet)


@st.composite
def _body_then_stop(draw: st.DrawFn, site: Site) -> Steps:
    """The closing leaves meet a body, and the stop button is struck while they go back from it."""
    struck = step("press", 6.0, control="stop button")
    return (*_closing(0.1), _in_the_way(draw, site, draw(_NOTICED), "something is met"), struck)


@st.composite
def _learns(draw: st.DrawFn, site: Site) -> Steps:
    """Travel learning is begun, and comes some way."""
    return (step("learn travel", float(draw(numbers(1, 60)) * 3)),)


@st.composite
def _learns_and_guard(draw: st.DrawFn, site: Site) -> Steps:
    """Travel learning comes some way, a guard trips and clears, and a command is given."""
    return (
        *draw(_learns(site)),
        *draw(_guard(site, "beam", "edge")),
        *pressed(draw(pick(("open button", "close button"))), draw(_WHILE)),
    )


@st.composite
def _runs_by_hand(draw: st.DrawFn, site: Site) -> Steps:
    """Part way open, the key switch is held for a while and let go; or a leaf is jogged."""
    stands = (*_opening(8.0), *pressed("step button", 1.0))
    if draw(st.booleans()):
        leaf, way = draw(pick(("active", "inactive"))), draw(pick(("open", "close")))
        held = step("jog press", draw(_WHILE), leaf=leaf, direction=way)
        return (*stands, held, step("jog release", 3.0, leaf=leaf))
    held = step("press", 3.0 + draw(_WHILE), control="key switch")
    return (*stands, held, step("release", 3.0, control="key switch"))


@st.composite
def _released(draw: st.DrawFn, site: Site) -> Steps:
    """A drive is released by hand with the gate open, and the gate is told to close."""
    leaf = draw(pick(site.leaves.fitted))
    return (
        *pressed("open button", 1.0, "fully open"),
        step("release drive", 0.5, leaf=leaf),
        *pressed("close button", 1.0, "it closes"),
        step("wind", 1.0, "the gate rests", wind_m_s=0.0),
    )


@st.composite
def _isolated_on_the_way(draw: st.DrawFn, site: Site) -> Steps:
    """Both sources are taken away while the gate moves; somebody tries whether it is dead, and gives them back."""
    link = site.supply.battery is not None
    goes = (*((step("remove battery link", 0.0),) if link else ()), step("isolate", draw(_WHILE)))
    comes = (*((step("fit battery link", 0.0),) if link else ()), step("restore", draw(_WHILE)))
    return (*draw(_moving()), *goes, *pressed("open button", draw(_WHILE)), *comes)


@st.composite
def _to_and_fro(draw: st.DrawFn, site: Site) -> Steps:
    """The gate is told to open and, on the way, to close, or the other way round, and again."""
    steps = list(draw(_moving()))
    for _ in range(draw(numbers(1, 2))):
        steps += pressed(draw(pick(("close button", "open button", "step button"))), draw(_WHILE))
    return tuple(steps)


def _round_trip() -> Phrases:
    """Opened fully and closed fully, undisturbed."""
    return st.just((*_closing(0.1), step("wind", 1.0, "the gate rests", wind_m_s=0.0)))


SCENES: Final[Mapping[str, Callable[[Site], Phrases]]] = {
    "opens a little": lambda site: _opens_a_little(site),
    "guard then command": lambda site: _guard_then_command(site),
    "beam then opening": lambda site: _beam_then_opening(site),
    "beam on the way": lambda site: _on_the_way(site, "beam"),
    "edge on the way": lambda site: _on_the_way(site, "edge"),
    "beam while closing": lambda site: _while_closing(site, "beam"),
    "edge while closing": lambda site: _while_closing(site, "edge"),
    "stop on the way": lambda site: _stop_on_the_way(site),
    "edge then stop": lambda site: _edge_then_stop(site),
    "body in the way": lambda site: _body_in_the_way(site),
    "body then stop": lambda site: _body_then_stop(site),
    "learns": lambda site: _learns(site),
    "learns and guard": lambda site: _learns_and_guard(site),
    "runs by hand": lambda site: _runs_by_hand(site),
    "released": lambda site: _released(site),
    "isolated on the way": lambda site: _isolated_on_the_way(site),
    "to and fro": lambda site: _to_and_fro(site),
    "round trip": lambda site: _round_trip(),
}
"""Scene: what it draws on a site that has the buttons and what trips."""

NEEDS: Final[Mapping[str, tuple[str, ...]]] = {
    "opens a little": ("open button",),
    "guard then command": ("open button", "close button", "step button", "beam"),
    "beam then opening": ("open button", "beam"),
    "beam on the way": ("open button", "close button", "beam"),
    "edge on the way": ("open button", "close button", "edge"),
    "beam while closing": ("open button", "close button", "beam"),
    "edge while closing": ("open button", "close button", "edge"),
    "stop on the way": ("open button", "close button", "circuit"),
    "edge then stop": ("open button", "close button", "edge", "circuit"),
    "body in the way": ("open button", "close button"),
    "body then stop": ("open button", "close button", "circuit"),
    "learns and guard": ("open button", "close button", "beam"),
    "runs by hand": ("key switch", "open button", "step button"),
    "released": ("open button", "close button"),
    "isolated on the way": ("open button", "close button"),
    "to and fro": ("open button", "close button", "step button"),
    "round trip": ("open button", "close button"),
}
"""Scene: controls it presses, and kinds of guards that trip in it."""
