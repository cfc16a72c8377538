"""A tour of every state: cases that bring the gate into each of them, and there disturb it in every way.

Chance comes to some states seldom. These cases come to each of them for sure, so that what a power cut, a stop or a
guard does there is looked at by every property, every time.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from sim.bench.proof.case import Case, Step
from sim.controller.settings import Value
from sim.site import Site

Sheet = tuple[tuple[str, Value], ...]
Way = tuple[Sheet, tuple[Step, ...]]


def _step(act: str, seconds: float = 0.1, wait: str = "", **arguments: Value) -> Step:
    return Step(act, tuple(arguments.items()), wait, seconds)


def _tap(control: str, seconds: float = 0.1, wait: str = "") -> tuple[Step, ...]:
    return _step("press", control=control), _step("release", seconds, wait, control=control)


def _wait(for_what: str) -> Step:
    return _step("wind", 0.0, for_what, wind_m_s=0.0)


_DARK: Final = (_step("remove battery link", 0.0), _step("isolate", 0.1))
_LIGHT: Final = (_step("fit battery link", 0.0), _step("restore", 0.02))
_OPEN: Final = _tap("open button", 1.0, "fully open")
_CLOSING: Final = (*_OPEN, *_tap("close button", 3.0, "it closes"))
_LOST: Final = (*_tap("open button", 3.0, "it opens"), *_DARK, *_LIGHT, _step("wind", 1.0, wind_m_s=0.0))
_AJAR: Final = (
    _step("jog press", 5.0, leaf="active", direction="open"),
    _step("jog release", 1.0, leaf="active"),
)
_BOTH_HELD: Final[tuple[str, Value]] = ("open and close buttons", "hold-to-run")
_PLAIN: Final[Sheet] = (("guard test", "off"),)
_LOCKED: Final[Sheet] = (("relief push", 1.0),)
_HELD: Final[Sheet] = (*_PLAIN, ("inner beam", "hold"), ("outer beam", "reopen"))

WAYS: Final[dict[str, Way]] = {
    "at rest": ((), ()),
    "self-check": ((), (*_DARK, *_LIGHT)),
    "testing the guards": (
        (("guard test", "on"),),
        (_step("bridge", guard="outer beam"), _step("press", 0.2, control="open button")),
    ),
    "testing, then clear": ((("guard test", "on"),), (_step("press", 0.0, control="open button"),)),
    "warning": (_PLAIN, _tap("open button", 0.5)),
    "warning to close": (_PLAIN, (*_OPEN, *_tap("close button", 0.5))),
    "freeing the lock": (_LOCKED, _tap("open button", 0.3, "it closes")),
    "opening": (_PLAIN, _tap("open button", 2.5, "it opens")),
    "opening for pedestrians": (
        _PLAIN,
        (_step("press transmitter", button=1, transmitter="blue fob"), _step("wind", 3.0, "it opens", wind_m_s=0.0)),
    ),
    "closing": (_PLAIN, _CLOSING),
    "stopping": (_PLAIN, (*_tap("open button", 2.5, "it opens"), *_tap("step button", 0.1))),
    "reversing": (_HELD, (*_CLOSING, _step("cover beam", 0.1, guard="outer beam"))),
    "held while opening": (
        _HELD,
        (*_tap("open button", 2.5, "it opens"), _step("cover beam", 1.0, guard="inner beam")),
    ),
    "held while closing": (_HELD, (*_CLOSING, _step("cover beam", 1.0, guard="inner beam"))),
    "to go on after a hold": (
        _HELD,
        (
            *_tap("open button", 2.5, "it opens"),
            _step("cover beam", 1.0, guard="inner beam"),
            _step("uncover beam", 0.5, guard="inner beam"),
        ),
    ),
    "freeing the lock after a hold": (
        _HELD,
        (
            *_tap("open button", 0.0, "it opens"),
            _step("cover beam", 1.0, guard="inner beam"),
            _step("uncover beam", 0.1, "it closes", guard="inner beam"),
        ),
    ),
    "backing off": (
        (*_PLAIN, ("active edge", "back off")),
        (*_CLOSING, _step("press edge", 0.4, guard="active edge")),
    ),
    "backing off from a beam": (
        (*_PLAIN, ("outer beam", "back off")),
        (*_CLOSING, _step("cover beam", 0.4, guard="outer beam")),
    ),
    "reversing from an edge": (
        (*_PLAIN, ("active edge", "reopen")),
        (*_CLOSING, _step("press edge", 0.1, guard="active edge")),
    ),
    "open, waiting to close": ((*_PLAIN, ("auto-close", "on")), _OPEN),
    "warning to close by itself": (
        (*_PLAIN, ("auto-close", "on"), ("auto-close after", 5.0)),
        (*_OPEN, _step("wind", 5.0, wind_m_s=0.0)),
    ),
    "finding, making room": (_PLAIN, (*_LOST, *_tap("open button", 1.5, "it opens"))),
    "finding, closing": (_PLAIN, (*_LOST, *_tap("open button", 4.0, "it closes"))),
    "finding, to close": (_PLAIN, (*_LOST, *_tap("close button", 4.0, "it closes"))),
    "finding, to the end": (_PLAIN, (*_LOST, *_tap("close button", 5.0, "it closes"), _wait("learning ends"))),
    "finding, without a lock": (
        (*_PLAIN, ("electric lock", "not fitted")),
        (*_LOST, *_tap("open button", 1.0, "it opens")),
    ),
    "finding, with a lock": (_LOCKED, (*_LOST, *_tap("open button", 0.0, "fully open"))),
    "travel learning, opening": (_PLAIN, (_step("learn travel", 3.0, "it opens"),)),
    "travel learning, closing": (_PLAIN, (_step("learn travel", 3.0, "it closes"),)),
    "travel learning, with a lock": (_LOCKED, (_step("learn travel", 3.0, "it opens"),)),
    "travel learning, position lost": (_LOCKED, (*_LOST, _step("learn travel", 1.0, "it opens"))),
    "travel learning, at the end": (
        _PLAIN,
        (_step("learn travel", 2.0), *[_wait("learning ends")] * 5),
    ),
    "jog": (_PLAIN, (_step("jog press", 2.0, leaf="inactive", direction="close"),)),
    "jog, from open": (_PLAIN, (*_OPEN, _step("jog press", 2.0, leaf="active", direction="close"))),
    "hold-to-run": (
        (*_PLAIN, ("key switch", "hold-to-run open")),
        (_step("press", 2.0, control="key switch"),),
    ),
    "held opening": ((*_PLAIN, _BOTH_HELD), (*_AJAR, _step("press", 5.0, control="open button"))),
    "held closing": ((*_PLAIN, _BOTH_HELD), (*_AJAR, _step("press", 5.0, control="close button"))),
    "in sight after a failed test": (
        (("guard test", "on"), _BOTH_HELD, ("hold-to-run after a failed test", "allowed")),
        (*_AJAR, _step("bridge", guard="outer beam"), _step("press", 5.0, control="open button")),
    ),
    "halted": ((), (_step("press", 1.0, control="stop button"),)),
    "halted with power away": ((), (_step("press", 1.0, control="stop button"), *_DARK)),
}
"""Where a case comes to: the sheet for it, and the steps."""

DISTURBANCES: Final[dict[str, tuple[Step, ...]]] = {
    "nothing": (),
    "power": (*_DARK, *_LIGHT, _step("wind", 2.0, wind_m_s=0.0), *_tap("open button", 2.0)),
    "stop": (
        _step("press", 1.5, control="stop button"),
        _step("release", 1.0, control="stop button"),
        *_tap("step button", 3.0),
    ),
    "outer beam": (_step("cover beam", 3.0, guard="outer beam"), _step("uncover beam", 3.0, guard="outer beam")),
    "inner beam": (_step("cover beam", 3.0, guard="inner beam"), _step("uncover beam", 3.0, guard="inner beam")),
    "active edge": (_step("press edge", 3.0, guard="active edge"), _step("release edge", 3.0, guard="active edge")),
    "step": _tap("step button", 3.0),
    "open": _tap("open button", 3.0),
    "close": _tap("close button", 3.0),
    "both": (*_tap("open button", 2.0)[:1], *_tap("close button", 2.0)),
    "let go": (
        _step("release", 0.1, control="key switch"),
        _step("release", 0.1, control="open button"),
        _step("release", 0.1, control="close button"),
        _step("jog release", 3.0, leaf="active"),
        _step("jog release", 1.0, leaf="inactive"),
    ),
    "beam, then stop": (
        _step("cover beam", 0.2, guard="outer beam"),
        _step("press", 2.0, control="stop button"),
        _step("release", 1.0, control="stop button"),
    ),
    "edge, then step": (_step("press edge", 0.2, guard="active edge"), *_tap("step button", 2.0)),
    "outer, then inner beam": (
        _step("cover beam", 0.1, guard="outer beam"),
        _step("cover beam", 2.0, guard="inner beam"),
    ),
}
"""What is done there."""


def tour(site: Site) -> Iterator[Case]:
    """Every state with every disturbance that the site has what is needed for.

    What a sheet says of a guard that isn't there is left out of it; a case that needs a control that isn't wired, a
    leaf or a guard that isn't fitted is left out whole.
    """
    absent = {guard for guard, fitted in site.guards.fitted.items() if not fitted}
    for sheet, way in WAYS.values():
        true = tuple((name, value) for name, value in sheet if name not in absent)
        for disturbance in DISTURBANCES.values():
            steps = tuple(_with_its_transmitter(site, step) for step in (*way, *disturbance))
            if all(_can_be_done(site, step) for step in steps):
                yield Case(steps, true)


def _with_its_transmitter(site: Site, step: Step) -> Step:
    """A press of any transmitter is a press of the site's first."""
    given = dict(step.arguments)
    if "transmitter" not in given or not site.transmitters:
        return step
    return replace(step, arguments=tuple({**given, "transmitter": site.transmitters[0].tag}.items()))


def _can_be_done(site: Site, step: Step) -> bool:
    given = dict(step.arguments)
    leaves = list(site.leaves.fitted)
    controls = [*site.controls, *(["stop button"] if site.guards.fitted["stop circuit"] else [])]
    return (
        given.get("control", controls[0]) in controls
        and given.get("leaf", leaves[0]) in leaves
        and site.guards.fitted.get(str(given.get("guard", "")), True)
        and ("transmitter" not in given or bool(site.transmitters))
    )
