"""The spring scale: how hard one has to pull or push a leaf by hand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from sim.draws import normal
from sim.instruments.instrument import Function, Group, Use
from sim.instruments.scaled import Row, Scale, Scaled, leaf_at, needs
from sim.instruments.shown import Shown
from sim.mechanics import by_hand
from sim.said import said
from sim.site import Lock
from sim.world.bolt import SHUT_RAD

if TYPE_CHECKING:
    from sim.world.world import World


@dataclass(frozen=True, slots=True)
class SpringScaleSpec:
    """A hand-held scale. CP, no source."""

    most_n: float = 250.0
    step_n: float = 2.0
    noise_n: float = 1.5
    """A hand does not pull evenly: deviation of a reading [N]."""


SPEC: Final = SpringScaleSpec()


def read(force_n: float, *, seed: int, index: int, spec: SpringScaleSpec = SPEC) -> Shown:
    """What it shows for a force [N], whichever way it is pulled; `index` counts this scale's readings."""
    force = abs(force_n) + spec.noise_n * normal(seed, "spring scale", "pull", index)
    if force > spec.most_n:
        return Shown(None, "N", said("over {most_n:g} N", most_n=spec.most_n), ("over range",))
    value = max(0.0, round(force / spec.step_n) * spec.step_n)
    return Shown(value, "N", f"{value:g} N")


def _free(world: World, use: Use) -> int:
    leaf = leaf_at(use)
    needs(not world.plant.engaged(leaf), said("the drive holds the {leaf} leaf; release it first", leaf=use.at))
    needs(not world.notices.moving(), "the gate moves under power; nobody hangs a scale on it now")
    return leaf


def _to_move(world: World, use: Use) -> float:
    leaf = _free(world, use)
    is_free = world.site.leaves.pair[leaf].secured == "free"
    needs(is_free, said("the {leaf} leaf is propped or roped; take that away first", leaf=use.at))
    return by_hand.force_to_move(world.plant, leaf)


def _to_hold(world: World, use: Use) -> float:
    return by_hand.force_to_hold(world.plant, _free(world, use))


def _on_bolt(world: World, use: Use) -> float:
    lock = world.site.lock
    needs(isinstance(lock, Lock), "this gate has no electric lock")
    assert isinstance(lock, Lock)
    needs(lock.leaf == use.at, said("the bolt is on the {leaf} leaf", leaf=lock.leaf))
    needs(not world.notices.moving(), "the gate moves under power; nobody leans on it now")
    shut = abs(world.plant.angle(leaf_at(use))) <= SHUT_RAD
    needs(shut, said("the {leaf} leaf must be shut: only then its seal presses", leaf=use.at))
    return lock.pressed_n


_SCALE: Final = Scale(SPEC.step_n, SPEC.noise_n, 0.0, SPEC.most_n)


class SpringScale(Scaled):
    """The spring scale of a bag."""

    name = "spring scale"
    group: Group = "mechanical"
    help = "How hard one has to pull at a leaf's tip."
    rows = (
        Row(
            Function(
                "force to move the leaf",
                "N",
                "Hooked to the tip of a leaf whose drive is released: what moves it, the harder way.",
                at="leaf",
            ),
            _to_move,
            _SCALE,
        ),
        Row(
            Function(
                "force to hold the leaf",
                "N",
                "Hooked to the tip of a leaf whose drive is released: what keeps it from swinging by itself.",
                at="leaf",
                caution="A leaf that swings by itself is heavy. Rope it first, and stand beside its arc.",
            ),
            _to_hold,
            _SCALE,
        ),
        Row(
            Function(
                "push that frees the bolt",
                "N",
                "Against the tip of a shut leaf, towards shut, until its bolt rattles in the keep.",
                at="leaf",
                caution="Keep fingers off the bolt and its keep.",
            ),
            _on_bolt,
            Scale(SPEC.step_n, SPEC.noise_n, 0.0, 500.0),
        ),
    )
