"""Families that bring about what one promise is about: drawn only where a focus names them."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from hypothesis import strategies as st

from sim.bench.proof.case import Step
from sim.bench.proof.choosing import pick
from sim.controller.settings import Value
from sim.site import Site

Steps = tuple[Step, ...]
Phrases = st.SearchStrategy[Steps]

OPEN_S: Final = 30.0
"""More than any start and half a movement takes: warning, test, lock, and some way [s]."""


def step(act: str, seconds: float, wait: str = "", **arguments: Value) -> Step:
    """A step whose arguments are written as in a call."""
    return Step(act, tuple(arguments.items()), wait, seconds)


_A_WHILE = pick((1.0, 0.3, 3.0, 6.0, 12.0))
_DIP = pick((0.5, 0.1, 0.03, 1.0, 3.0))


def _tap(control: str, seconds: float, wait: str = "") -> Steps:
    return (step("press", 0.1, control=control), step("release", seconds, wait, control=control))


def _whole_opening(site: Site) -> Phrases:
    """The gate is opened fully."""
    return st.builds(lambda after: _tap("open button", after, "fully open"), _A_WHILE)


def _begun_opening(site: Site) -> Phrases:
    """The gate is told to open, and something of it passes."""
    return st.builds(lambda after: _tap("open button", after), _A_WHILE)


def _dip(site: Site) -> Phrases:
    """Every source is away for a moment: the board loses its power and has it again."""
    battery = site.supply.battery is not None

    def dip(away: float, after: float) -> Steps:
        link = (step("remove battery link", 0.0),) if battery else ()
        return (*link, step("isolate", away), step("restore", after))

    return st.builds(dip, _DIP, pick((3.0, 20.0, 1.0)))


def _held_through_a_stop(site: Site) -> Phrases:
    """A control is held while the stop button goes in and comes out."""

    def held(control: str, before: float, after: float) -> Steps:
        return (
            step("press", before, control=control),
            step("press", 0.5, control="stop button"),
            step("release", after, control="stop button"),
        )

    return st.builds(held, _buttons(site), _A_WHILE, pick((6.0, 15.0)))


def _held_past_a_guard(site: Site) -> Phrases:
    """A control is pressed though a guard stands against it, and held until that is clear again."""

    def held(control: str, edge: str, before: float) -> Steps:
        return (
            step("press edge", 0.3, guard=edge),
            step("press", before, control=control),
            step("release edge", 8.0, guard=edge),
        )

    edges = [name for name in ("active edge", "inactive edge") if site.guards.fitted[name]]
    return st.builds(held, _buttons(site), pick(edges), _A_WHILE)


def _buttons(site: Site) -> st.SearchStrategy[str]:
    return pick([name for name in site.controls if name != "timer contact"])


def _both(site: Site) -> Phrases:
    """Open and close buttons are pressed together, or one while the other is held."""

    def both(first: str, between: float, after: float) -> Steps:
        other = "close button" if first == "open button" else "open button"
        return (
            step("press", between, control=first),
            step("press", 0.2, control=other),
            step("release", 0.0, control=other),
            step("release", after, control=first),
        )

    return st.builds(both, pick(("open button", "close button")), pick((0.0, 0.2, 3.0)), _A_WHILE)


def _bridged(site: Site) -> Phrases:
    """Somebody lays a link across a beam's input: it reads clear whatever its emitter does."""
    beams = [name for name in ("outer beam", "inner beam") if site.guards.fitted[name]]
    return st.builds(lambda beam, after: (step("bridge", after, guard=beam),), pick(beams), _A_WHILE)


def _stands_in_the_way(site: Site) -> Phrases:
    """The gate is opened, and something is put down where its leaves close."""
    middle = round(site.opening_width_m / 2.0, 2)

    def stands(watched: float, y: float) -> Steps:
        placed = step("place body", watched, body="test body", x_m=middle, y_m=y)
        return (*_tap("open button", 0.5, "fully open"), placed)

    return st.builds(stands, pick((100.0, 180.0)), pick((0.5, 0.3)))


def _pedestrian(site: Site) -> Phrases:
    """Somebody on foot presses the transmitter whose button opens one leaf."""

    def pressed(after: float) -> Steps:
        tag = site.transmitters[1].tag
        return (
            step("press transmitter", 0.3, transmitter=tag, button=1),
            step("release transmitter", after, transmitter=tag),
        )

    return st.builds(pressed, pick((8.0, 20.0, 3.0)))


def _deleted(site: Site) -> Phrases:
    """A user is deleted, and presses all the same."""

    def deleted(place: int, after: float) -> Steps:
        tag, holder = site.transmitters[place].tag, ("first holder", "second holder")[place]
        return (
            step("delete transmitter", 0.2, holder=holder),
            step("press transmitter", 0.3, transmitter=tag, button=1),
            step("release transmitter", after, transmitter=tag),
        )

    return st.builds(deleted, pick((0, 1)), pick((6.0, 12.0)))


def _copied_word(site: Site) -> Phrases:
    """A transmitter is pressed, and later somebody sends again what was heard."""

    def copied(place: int, between: float, older: int) -> Steps:
        tag = site.transmitters[place].tag
        return (
            step("press transmitter", 0.3, transmitter=tag, button=1),
            step("release transmitter", between, "the gate rests", transmitter=tag),
            step("repeat radio word", 6.0, tag=tag, older=older),
        )

    return st.builds(copied, pick((0, 1)), pick((30.0, 1.0)), pick((0, 1)))


def _timer(site: Site) -> Phrases:
    """The contact of a clock closes, and perhaps opens again."""

    def contact(after: float, again: bool) -> Steps:
        closes = step("timer contact", after, closed=True)
        return (closes, step("timer contact", 5.0, closed=False)) if again else (closes,)

    return st.builds(contact, pick((20.0, 5.0, 60.0)), st.booleans())


def _timer_without_power(site: Site) -> Phrases:
    """The contact of a clock closes while the board has no power."""

    def closes(after: float) -> Steps:
        battery = site.supply.battery is not None
        link = (step("remove battery link", 0.0),) if battery else ()
        return (*link, step("isolate", 1.0), step("timer contact", 1.0, closed=True), step("restore", after))

    return st.builds(closes, pick((20.0, 40.0)))


def _stays_in_a_beam(site: Site) -> Phrases:
    """Somebody stands in a beam, and stays there."""
    beams = [name for name in ("inner beam", "outer beam") if site.guards.fitted[name]]
    stays = pick((20.0, 40.0))
    return st.builds(lambda beam, after: (step("cover beam", after, guard=beam),), pick(beams), stays)


def _stopped_for_a_while(site: Site) -> Phrases:
    """The stop button goes in and comes out, and time passes."""
    first, then = step("press", 1.0, control="stop button"), pick((20.0, 40.0))
    return st.builds(lambda after: (first, step("release", after, control="stop button")), then)


def _passes(site: Site) -> Phrases:
    """Somebody passes through a beam, and time passes."""
    beams = [name for name in ("outer beam", "inner beam") if site.guards.fitted[name]]

    def passes(beam: str, before: float) -> Steps:
        return (
            step("wind", before, wind_m_s=0.0),
            step("cover beam", 0.5, guard=beam),
            step("uncover beam", 25.0, guard=beam),
        )

    return st.builds(passes, pick(beams), pick((2.0, 0.5)))


def _sealed(site: Site) -> Phrases:
    """The sheet is sealed; then somebody tries to write on it."""
    tries = pick(
        (
            step("set", 0.2, setting="auto-close", value="on"),
            step("reset sheet", 0.2),
            step("set", 0.2, setting="warning before moving", value="5"),
            step("set", 0.2, setting="outer beam", value="not fitted"),
        )
    )
    return st.builds(lambda tried: (step("seal sheet", 0.2, name="somebody"), tried), tries)


def _learns_for_a_while(site: Site) -> Phrases:
    """Learning is begun, and comes some way."""
    return st.builds(lambda after: (step("learn travel", after),), pick((15.0, 40.0, 6.0, 90.0)))


def _put_right(site: Site) -> Phrases:
    """Everything is put right, and somebody opens and closes the gate."""

    def again(before: float) -> Steps:
        return (
            step("put right", before),
            *_tap("open button", OPEN_S),
            *_tap("close button", OPEN_S),
            step("unseal sheet", 0.1, name="somebody", reason="put right"),
            step("jog press", 2.5, leaf="active", direction="open"),
            step("jog release", 0.5, leaf="active"),
        )

    return st.builds(again, pick((6.0, 12.0)))


def _nothing(site: Site) -> Phrases:
    """Time passes."""
    return st.builds(lambda seconds: (step("wind", seconds, wind_m_s=0.0),), pick((12.0, 30.0, 60.0)))


SITUATIONS: Final[Mapping[str, Callable[[Site], Phrases]]] = {
    "whole opening": _whole_opening,
    "begun opening": _begun_opening,
    "dip": _dip,
    "held through a stop": _held_through_a_stop,
    "held past a guard": _held_past_a_guard,
    "both": _both,
    "bridged": _bridged,
    "stands in the way": _stands_in_the_way,
    "pedestrian": _pedestrian,
    "deleted": _deleted,
    "copied word": _copied_word,
    "timer": _timer,
    "timer without power": _timer_without_power,
    "stays in a beam": _stays_in_a_beam,
    "stopped for a while": _stopped_for_a_while,
    "passes": _passes,
    "sealed": _sealed,
    "learns for a while": _learns_for_a_while,
    "put right": _put_right,
    "nothing": _nothing,
}
"""Family: what it draws on a site."""

NEEDS: Final[Mapping[str, Callable[[Site], bool]]] = {
    "whole opening": lambda site: "open button" in site.controls,
    "begun opening": lambda site: "open button" in site.controls,
    "held through a stop": lambda site: site.guards.fitted["stop circuit"] and set(site.controls) > {"timer contact"},
    "held past a guard": lambda site: site.guards.fitted["active edge"] or site.guards.fitted["inactive edge"],
    "both": lambda site: {"open button", "close button"} <= set(site.controls),
    "bridged": lambda site: site.guards.fitted["outer beam"] or site.guards.fitted["inner beam"],
    "stands in the way": lambda site: "open button" in site.controls,
    "pedestrian": lambda site: len(site.transmitters) > 1,
    "deleted": lambda site: len(site.transmitters) > 1,
    "copied word": lambda site: len(site.transmitters) > 1,
    "timer": lambda site: "timer contact" in site.controls,
    "timer without power": lambda site: "timer contact" in site.controls,
    "stopped for a while": lambda site: site.guards.fitted["stop circuit"],
    "passes": lambda site: site.guards.fitted["outer beam"] or site.guards.fitted["inner beam"],
    "stays in a beam": lambda site: site.guards.fitted["outer beam"] or site.guards.fitted["inner beam"],
    "put right": lambda site: {"open button", "close button"} <= set(site.controls),
}
"""What a site must have for a family that not every site can play."""


def situations(site: Site) -> list[str]:
    """Families that have anything to draw from on this site."""
    return [name for name in SITUATIONS if name not in NEEDS or NEEDS[name](site)]
