"""What the search draws from: families of acts that people, bodies, weather and faults bring, put together to a case.

Each family is a phrase: an act with what undoes it, and the time between. What comes first in a list is the simplest,
and what a counterexample is shrunk to.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Final

from hypothesis import strategies as st

from sim.bench.proof.case import Case, Step
from sim.bench.proof.choosing import either, numbers, pick
from sim.bench.proof.entry import Focus
from sim.bench.proof.scenes import NEEDS, SCENES
from sim.bench.proof.situations import SITUATIONS, situations
from sim.controller.settings import CATALOGUE, Setting, Value
from sim.site import Site

Steps = tuple[Step, ...]
Phrases = st.SearchStrategy[Steps]

MOST_PHRASES: Final = 5
"""Phrases of one case at most."""

NAMED_TIMES: Final = 4
"""So many times as often as all others together are the families drawn that a focus names."""

MOST_SETTINGS: Final = 3
"""Settings changed for one case at most, beside those that its focus names."""

_SOON = pick((0.1, 0.02, 0.05, 0.3, 0.6, 1.0, 2.0))
_LATER = numbers(0, 80).map(lambda quarters: quarters / 4.0)
"""Up to twenty seconds: a movement and a little."""

_WAITS = pick(("", "it opens", "it closes", "the gate rests"))


def _step(act: str, seconds: float, wait: str = "", **arguments: Value) -> Step:
    return Step(act, tuple(arguments.items()), wait, seconds)


@st.composite
def _command(draw: st.DrawFn, site: Site) -> Steps:
    """A control is pressed for a moment, and some time passes."""
    control = draw(pick([c for c in site.controls if c != "timer contact"]))
    wait, after = draw(_WAITS), draw(_LATER)
    return (_step("press", draw(_SOON), control=control), _step("release", after, wait, control=control))


@st.composite
def _hold(draw: st.DrawFn, site: Site) -> Steps:
    """A control is pressed and stays so."""
    control = draw(pick(site.controls))
    if control == "timer contact":
        return (_step("timer contact", draw(_LATER), closed=True),)
    return (_step("press", draw(_LATER), control=control),)


@st.composite
def _let_go(draw: st.DrawFn, site: Site) -> Steps:
    """A control that may be held is let go."""
    control = draw(pick(site.controls))
    if control == "timer contact":
        return (_step("timer contact", draw(_LATER), closed=False),)
    return (_step("release", draw(_LATER), control=control),)


@st.composite
def _open_then_close(draw: st.DrawFn, site: Site) -> Steps:
    """The gate is opened, and told to close: it comes some way."""
    return (
        _step("press", 0.1, control="open button"),
        _step("release", 1.0, "fully open", control="open button"),
        _step("press", 0.1, control="close button"),
        _step("release", draw(_LATER), "it closes", control="close button"),
    )


@st.composite
def _beam(draw: st.DrawFn, site: Site) -> Steps:
    """Something is in a beam for a while."""
    beam = draw(pick([n for n in ("outer beam", "inner beam") if site.guards.fitted[n]]))
    first = _step("cover beam", draw(either(_SOON, _LATER)), guard=beam)
    return (first, _step("uncover beam", draw(_LATER), guard=beam)) if draw(st.booleans()) else (first,)


@st.composite
def _edge(draw: st.DrawFn, site: Site) -> Steps:
    """An edge is pressed for a while."""
    edge = draw(pick([n for n in ("active edge", "inactive edge") if site.guards.fitted[n]]))
    first = _step("press edge", draw(either(_SOON, _LATER)), guard=edge)
    return (first, _step("release edge", draw(_LATER), guard=edge)) if draw(st.booleans()) else (first,)


@st.composite
def _stop(draw: st.DrawFn, site: Site) -> Steps:
    """The stop button is struck, and perhaps pulled out again."""
    first = _step("press", draw(either(_SOON, _LATER)), control="stop button")
    return (first, _step("release", draw(_LATER), control="stop button")) if draw(st.booleans()) else (first,)


@st.composite
def _unplugged(draw: st.DrawFn, site: Site) -> Steps:
    """A guard's plug is pulled, and perhaps put back."""
    guard = draw(pick([name for name, fitted in site.guards.fitted.items() if fitted]))
    first = _step("unplug", draw(_LATER), guard=guard)
    return (first, _step("plug in", draw(_LATER), guard=guard)) if draw(st.booleans()) else (first,)


@st.composite
def _power(draw: st.DrawFn, site: Site) -> Steps:
    """Both sources go, and come again."""
    goes = (_step("remove battery link", 0.0),) if site.supply.battery is not None else ()
    comes = (_step("fit battery link", 0.0),) if site.supply.battery is not None else ()
    return (*goes, _step("isolate", draw(either(_SOON, _LATER))), *comes, _step("restore", draw(_LATER)))


@st.composite
def _sag(draw: st.DrawFn, site: Site) -> Steps:
    """The supply sags for a while, with nothing else to feed the board."""
    volts = draw(pick((9.0, 15.0, 17.0, 21.0)))
    return (
        *((_step("remove battery link", 0.0),) if site.supply.battery is not None else ()),
        _step("supply voltage", draw(either(_SOON, _LATER)), volts=volts),
        _step("supply voltage", draw(_LATER), volts=site.supply.idle_v),
    )


@st.composite
def _body(draw: st.DrawFn, site: Site) -> Steps:
    """Somebody or something stands in the way for a while."""
    body = draw(pick(("test body", "adult", "car")))
    x = draw(numbers(2, 18)) / 20.0 * site.opening_width_m
    y = draw(numbers(-2, 10)) / 4.0
    first = _step("place body", draw(_LATER), body=body, x_m=round(x, 2), y_m=y)
    return (first, _step("remove body", draw(_LATER), body=body)) if draw(st.booleans()) else (first,)


@st.composite
def _radio(draw: st.DrawFn, site: Site) -> Steps:
    """A transmitter is pressed."""
    tag = draw(pick([t.tag for t in site.transmitters]))
    first = _step("press transmitter", draw(_SOON), transmitter=tag)
    return (first, _step("release transmitter", draw(_LATER), draw(_WAITS), transmitter=tag))


@st.composite
def _replay(draw: st.DrawFn, site: Site) -> Steps:
    """A word that a transmitter sent before is sent again by somebody else."""
    tag = draw(pick([t.tag for t in site.transmitters if t.code == "rolling"]))
    return (_step("repeat radio word", draw(_LATER), tag=tag, older=draw(pick((0, 1, 2)))),)


@st.composite
def _jog(draw: st.DrawFn, site: Site) -> Steps:
    """A leaf is jogged for a while."""
    leaf, way = draw(pick(site.leaves.fitted)), draw(pick(("open", "close")))
    first = _step("jog press", draw(_LATER), leaf=leaf, direction=way)
    return (first, _step("jog release", draw(_SOON), leaf=leaf))


@st.composite
def _learn(draw: st.DrawFn, site: Site) -> Steps:
    """Travel learning is begun, and something of it passes."""
    return (_step("learn travel", draw(_LATER), draw(pick(("", "learning ends")))),)


@st.composite
def _service(draw: st.DrawFn, site: Site) -> Steps:
    """Something is done at the service panel."""
    return (
        draw(
            pick(
                (
                    _step("acknowledge", 0.1),
                    _step("reset sheet", 0.1),
                    _step("seal sheet", 0.1, name="somebody"),
                    _step("unseal sheet", 0.1, name="somebody", reason="a change"),
                    _step("delete transmitter", 0.1, holder="first holder"),
                    _step("delete all transmitters", 0.1),
                )
            )
        ),
    )


@st.composite
def _release(draw: st.DrawFn, site: Site) -> Steps:
    """A leaf's drive is released by hand, and perhaps engaged again."""
    leaf = draw(pick(site.leaves.fitted))
    first = _step("release drive", draw(_LATER), leaf=leaf)
    return (first, _step("engage drive", draw(_LATER), leaf=leaf)) if draw(st.booleans()) else (first,)


@st.composite
def _wait(draw: st.DrawFn, site: Site) -> Steps:
    """Nothing is done for a long time."""
    return (Step("wind", (("wind_m_s", 0.0),), draw(_WAITS), float(draw(numbers(1, 12)) * 10)),)


PHRASES: Final[Mapping[str, Callable[[Site], Phrases]]] = {
    "command": lambda site: _command(site),
    "open then close": lambda site: _open_then_close(site),
    "beam": lambda site: _beam(site),
    "edge": lambda site: _edge(site),
    "stop": lambda site: _stop(site),
    "power": lambda site: _power(site),
    "hold": lambda site: _hold(site),
    "let go": lambda site: _let_go(site),
    "wait": lambda site: _wait(site),
    "radio": lambda site: _radio(site),
    "replay": lambda site: _replay(site),
    "body": lambda site: _body(site),
    "sag": lambda site: _sag(site),
    "unplugged": lambda site: _unplugged(site),
    "jog": lambda site: _jog(site),
    "learn": lambda site: _learn(site),
    "service": lambda site: _service(site),
    "release": lambda site: _release(site),
    **SCENES,
}
"""Family: what it draws on a site."""

NEVER_VARIED: Final = frozenset(
    {
        "leaves fitted",
        "drive kind",
        "motor kind",
        "position sensing",
        "limit switches",
        "opens first",
        "electric lock",
        *(f"{guard} input" for guard in ("outer beam", "inner beam", "active edge", "inactive edge")),
    }
)
"""Settings that say what the gate is: a sheet that is false to the gate is a fault, and searched as one."""


def _values(entry: Setting) -> tuple[Value, ...]:
    """What is worth trying of a setting: its default, and both ends of its range."""
    if entry.choices:
        return tuple(dict.fromkeys((entry.default, *entry.choices)))
    return tuple(dict.fromkeys(v for v in (entry.default, entry.least, entry.most) if v is not None))


def _has(site: Site, family: str) -> bool:
    """Whether a family has anything to draw from on this site."""
    fitted = site.guards.fitted
    if family in NEEDS:
        kinds = {name.split()[-1] for name, there in fitted.items() if there}
        return {*NEEDS[family]} <= {*site.controls, *kinds}
    return {
        "beam": fitted["outer beam"] or fitted["inner beam"],
        "edge": fitted["active edge"] or fitted["inactive edge"],
        "stop": fitted["stop circuit"],
        "radio": bool(site.transmitters),
        "replay": any(t.code == "rolling" for t in site.transmitters),
        "open then close": {"open button", "close button"} <= set(site.controls),
        "command": any(c != "timer contact" for c in site.controls),
        "hold": bool(site.controls),
        "let go": bool(site.controls),
    }.get(family, True)


def _sheets(focus: Focus) -> st.SearchStrategy[tuple[tuple[str, Value], ...]]:
    wanted = {name: pick(tuple(values)) for name, values in (focus.sheet or {}).items() if name in CATALOGUE}
    free = [entry for entry in CATALOGUE.values() if entry.name not in NEVER_VARIED and entry.name not in wanted]

    def together(focused: dict[str, Value], others: list[tuple[str, Value]]) -> tuple[tuple[str, Value], ...]:
        return tuple({**focused, **dict(others)}.items())

    pairs = [st.tuples(st.just(entry.name), pick(_values(entry))) for entry in free]
    changed = st.lists(either(*pairs), max_size=MOST_SETTINGS) if pairs else st.just([])
    return st.builds(together, st.fixed_dictionaries(wanted), changed)


def _of(site: Site, families: Sequence[str]) -> Phrases:
    return pick(families).flatmap(lambda name: (PHRASES.get(name) or SITUATIONS[name])(site))


def cases(site: Site, focus: Focus) -> st.SearchStrategy[Case]:
    """Cases for a site: mostly of the families that a focus names, the others now and then."""
    every = [name for name in PHRASES if _has(site, name)]
    known = [*every, *situations(site)]
    named = [name for name in focus.phrases if name in known] or every
    often = named * (1 + NAMED_TIMES * len(every) // len(named)) if focus.phrases else []
    rest = st.lists(_of(site, (*often, *every)), min_size=1, max_size=MOST_PHRASES)
    begins = [name for name in focus.first if name in known]
    phrases = st.builds(lambda first, others: [first, *others], _of(site, begins), rest) if begins else rest
    ends = [name for name in focus.last if name in known]
    if ends:
        phrases = st.builds(lambda others, last: [*others, last], phrases, _of(site, ends))
    faults: st.SearchStrategy[tuple[tuple[str, float], ...]] = st.just(())
    if focus.faults:
        one = st.tuples(pick(focus.faults), pick((1.0, 0.0)))
        faults = st.lists(one, max_size=1).map(tuple)

    def built(
        phrases: list[Steps], sheet: tuple[tuple[str, Value], ...], found: tuple[tuple[str, float], ...]
    ) -> Case:
        return Case(tuple(step for each in phrases for step in each), sheet, found)

    return st.builds(built, phrases, _sheets(focus), faults)
