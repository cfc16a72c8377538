"""Sentences and words of the simulator that stand neither in a call of `said()` nor in a catalogue of the window.

Tables, enumerations and errors are read from the running code, so that a new entry is gathered the day it is added.
Names are gathered by themselves: they stand in the gaps of sentences.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import Final, get_args

ROOT: Final = Path(__file__).resolve().parents[2]

Found = Iterator[tuple[str, str]]
"""(sentence, where it stands)."""

LONGEST_UNIT: Final = 3
"""A longer one is a word (`buttons`); shorter ones are the same in every language."""

SAYING: Final = {
    **dict.fromkeys(("Refused", "ActionError", "WiringError", "_line"), 0),
    **dict.fromkeys(("note", "tell", "needs"), 1),
    **dict.fromkeys(("_mains", "_battery", "_engaged", "_plugged", "_bridged", "_secured", "_fitted"), 1),
    **dict.fromkeys(("Shown", "_wrong"), 2),
}
"""What is called with a sentence or a name, and in which place."""


def in_calls() -> Found:
    """What is refused, noted, told and shown in so many words."""
    for path in sorted((ROOT / "sim").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                place = SAYING.get(getattr(node.func, "id", getattr(node.func, "attr", "")))
                where = f"{path.relative_to(ROOT)}:{node.lineno}"
                if place is not None and len(node.args) > place:
                    yield from _each(_chosen(node.args[place]), where)
                for what in (each.value for each in node.keywords if each.arg == "what" and place is not None):
                    yield from _each(_chosen(what), where)


def _chosen(given: ast.expr) -> Iterator[str]:
    if isinstance(given, ast.IfExp):
        yield from _chosen(given.body)
        yield from _chosen(given.orelse)
    elif isinstance(given, ast.Constant) and isinstance(given.value, str) and re.match(r"[^\W\d]|\{", given.value):
        yield given.value


def of_the_controller() -> Found:
    """States, what a leaf meets, what settings say of one another, terminals, months, sentences by command."""
    from sim.controller import calendar, guards, machine, motion, ports, rules, wording

    for table in wording.ALL:
        yield from _each(table.values(), "controller, sentences by command")
    yield from _each((state.value for state in machine.State), "controller, states")
    yield from _each((met.value for met in motion.Met), "controller, what a leaf meets")
    yield from _each((reading.value for reading in guards.Reading), "controller, how a guard reads")
    yield from _each(
        (rule.reason for rule in (*rules.CONTRADICTIONS, *rules.WARNINGS)), "controller, what settings say of others"
    )
    yield rules.EDGE_NEVER, "controller, what settings say of others"
    yield from _each((*ports.GUARD_TERMINALS, *ports.COMMAND_TERMINALS, *ports.LIMIT_TERMINALS), "terminals")
    yield from _each(calendar.MONTHS, "months")


def of_the_world() -> Found:
    """What a repair says once it is done, who moves a gate, what a leaf touches, how it is secured, winds."""
    from sim.devices.hands import SWITCHES
    from sim.mechanics.obstacle import GAP_THINGS, GAUGE_NAME
    from sim.mechanics.wind import BEAUFORT_WORDS
    from sim.mechanics.yard import SHAPES
    from sim.units import DIRECTIONS, LEAVES
    from sim.world.effects.repair import DONE

    yield from _each(DONE.values(), "repairs")
    yield from _each((*LEAVES, *DIRECTIONS), "leaves and their ways")
    yield from _each(("jog", "learning", "hold-to-run", "automatic"), "who moves a gate")
    yield from _each(
        ("open stop", "closed stop", "other leaf", GAUGE_NAME, *SHAPES, *GAP_THINGS), "what a leaf meets"
    )
    yield from _each(("free", "propped", "roped"), "how a leaf is secured")
    yield from _each(("handed over", "made safe"), "how a job ends")
    yield from _each(("inside", "outside"), "sides of a gate")
    yield from _each(BEAUFORT_WORDS, "winds")
    yield from _each(SWITCHES, "distribution board")


def of_the_instruments() -> Found:
    """What each is called and measures, where it is put, its cautions; what judges a force."""
    from sim.instruments.force_gauge import Outcome
    from sim.instruments.instrument import PlaceKind
    from sim.instruments.reversal import Outcome as ReversalOutcome
    from sim.instruments.shelf import SHELF

    for made in SHELF:
        instrument = made()
        yield from _each((instrument.name, instrument.group, instrument.help), "instruments")
        for function in instrument.functions:
            yield from _each((function.name, function.help, function.caution, *function.spots), "instruments")
            if function.unit.isalpha() and function.unit.islower() and len(function.unit) > LONGEST_UNIT:
                yield function.unit, "instruments"
    yield from _each((*get_args(PlaceKind), "prove", "over range"), "instruments")
    yield from _each((*get_args(Outcome), *get_args(ReversalOutcome)), "what a measurement comes to")


def of_the_faults() -> Found:
    """What a fault is called, its family, what the customer says of it, and what it brings that nobody planned."""
    from sim.faults.catalogue import FAULTS
    from sim.faults.edit import Fact
    from sim.world.notebook import NO_FAULT

    yield NO_FAULT, "faults"
    for fault in FAULTS.values():
        yield from _each((fault.name, fault.family, fault.customer), "faults")
        for step in fault.repair:
            if step.kind == "remove link":
                yield from _each(str(step.arguments["what"]).split(", "), "faults")
        for edit in fault.edits:
            if isinstance(edit, Fact) and edit.path.endswith(".ground"):
                yield from _each((ridge["name"] for ridge in edit.mild), "faults")


def of_the_wiring() -> Found:
    """Terminals, cores, joints, parts, and what can be repaired, of every gate: part by part, as they are shown."""
    from sim.instruments.places import places
    from sim.site import load_site
    from sim.units import LEAVES
    from sim.world.mending.row import VERBS
    from sim.world.mending.table import ROWS, targets
    from sim.world.world import World
    from trainer.window.wiring.geometry import short_name

    names = dict.fromkeys(name for row in ROWS for name in (row.what, *row.parts))
    names |= dict.fromkeys(f"{leaf} edge receiver" for leaf in LEAVES)  # of an edge without a wire, which jobs have
    for path in sorted((ROOT / "scenarios" / "sites").glob("*.yaml")):
        world = World(load_site(path))
        cabinet = world.cabinet
        for terminal in cabinet.terminals.values():
            names |= dict.fromkeys((terminal.part, terminal.pin, terminal.name))
        for core in cabinet.cores():
            names |= dict.fromkeys((core.name, core.run, short_name(core)))
        for kind in ("joint", "core", "transmitter", "post"):
            names |= dict.fromkeys(places(world, kind))
        for verb in VERBS:
            names |= dict.fromkeys(targets(world, verb))
        names |= dict.fromkeys(cabinet.controls)
        names |= dict.fromkeys(ridge.name for leaf in world.site.leaves.hung for ridge in leaf.ground)
        surroundings = world.site.surroundings
        names |= dict.fromkeys(
            each.name for each in (*surroundings.foliage, *surroundings.mirrors, *world.site.walls)
        )
    yield from _each(dict.fromkeys(part for name in names for part in name.split(", ")), "wiring and parts")


def of_the_hazards() -> Found:
    """The lines of every gate's survey, and what may be written beside them."""
    from sim.site import load_site

    for path in sorted((ROOT / "scenarios" / "sites").glob("*.yaml")):
        for row in load_site(path).hazards:
            yield from _each((row.hazard, *row.choices), path.name)


def of_the_acts() -> Found:
    """Names of arguments as a complaint about one has them."""
    from sim.world.actions import CATALOGUE

    for kind in CATALOGUE.values():
        yield from _each((argument.name for argument in kind.arguments), f"action {kind.name}")


def _each(words: Iterable[str], place: str) -> Found:
    for word in words:
        yield word, place


SOURCES: Final = (
    in_calls,
    of_the_controller,
    of_the_world,
    of_the_instruments,
    of_the_faults,
    of_the_wiring,
    of_the_hazards,
    of_the_acts,
)
