"""The bag a person works from: which instrument is in hand, where it is placed, what it showed.

Placing is an act that edits the net or the yard; reading is a look. The world is handed this bag when it is built,
so that the journal's acts reach it; the world itself knows no instrument.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, cast

from sim.devices.cabinet import Live
from sim.errors import Refused
from sim.instruments import multimeter, two_pole_tester
from sim.instruments.force_gauge import Floats, Reading, as_kept, evaluate, judge
from sim.instruments.measuring_points import gap_at_angle, touch_angle
from sim.instruments.rule_sets import EN, ForceRules
from sim.instruments.shown import Shown
from sim.mechanics.obstacle import GAUGE_STIFFNESS, force_gauge
from sim.units import LEAVES, Direction

if TYPE_CHECKING:
    from sim.world.world import World

HAND_STIFFNESS = 15_000.0
"""How an arm that holds the gauge gives way [N/m]. CP, no source."""

GAUGE_SLOT = 3
"""The slot of a leaf that is kept for the gauge."""


@dataclass(frozen=True, slots=True)
class ForceRecord:
    """One stored force reading."""

    leaf: str
    gap_mm: float
    height_mm: float
    rest: str
    time_s: Floats
    force_n: Floats
    figures: Reading
    verdict: str
    direction: Direction = "closing"


class Toolbag:
    """Multimeter, two-pole tester and force gauge in one session; `rules` is what a force reading is judged by."""

    def __init__(self, world: World, rules: ForceRules = EN) -> None:
        self._world = world
        self._rules = rules
        self._probes: multimeter.Probes | None = None
        self._shown: Shown | None = None
        self._readings = 0
        self._tester = ("", "")
        self.gauge: tuple[str, float, float] | None = None
        """(leaf, gap [mm], height [mm]) while the force gauge stands."""
        self._direction: Direction = "closing"
        self._rest = ""
        self.records: list[ForceRecord] = []

    # -- multimeter ------------------------------------------------------------------------------------

    def place_probes(self, function: str, red: str, black: str) -> str:
        """Put the probes on two terminals; they load the circuit from now on."""
        self._lift()
        self._probes = multimeter.Probes(cast(multimeter.Function, function), red, black)
        multimeter.place(self._world.cabinet, self._probes)
        self._world.host.rewired()
        return f"Probes placed, {function}: red on {red}, black on {black}."

    def read_meter(self) -> str:
        """Read the display."""
        probes = self._probes
        if probes is None:
            raise Refused("the multimeter's probes are on nothing; place them first")
        self._readings += 1
        world = self._world
        shown = multimeter.read(world.cabinet, probes, self._live(), seed=world.seed, index=self._readings)
        self._shown = shown
        text = f"{probes.function} between {probes.red} and {probes.black}: {shown.text}"
        world.tell("reading", text, **_reading("multimeter", probes.function, probes.red, probes.black, shown))
        if "live circuit" in shown.flags:
            detail = f"{probes.function} between {probes.red} and {probes.black}"
            world.tell(
                "danger",
                "resistance asked of a live circuit: the figure is worthless",
                what="ohms on a live circuit",
                detail=detail,
            )
        return text

    def lift_probes(self) -> str:
        """Take the probes off."""
        self._lift()
        return "Probes off."

    def _lift(self) -> None:
        if self._probes is not None:
            multimeter.lift(self._world.cabinet)
            self._probes, self._shown = None, None
            self._world.host.rewired()

    # -- two-pole tester -------------------------------------------------------------------------------

    def prove_tester(self) -> str:
        """Try the tester on a known source."""
        shown = two_pole_tester.prove()
        self._tester = ("known source", shown.text)
        text = f"two-pole tester on a known source: {shown.text}"
        self._world.tell("reading", text, **_reading("two-pole tester", "prove", "known source", "", shown))
        return text

    def test_dead(self, red: str, black: str) -> str:
        """Set the tips on two terminals for a moment and see which lamps light."""
        world = self._world
        tips = two_pole_tester.Tips(red, black)
        undo = two_pole_tester.place(world.cabinet, tips)
        shown = two_pole_tester.read(world.cabinet, tips, self._live())
        undo()
        world.host.rewired()
        self._tester = (f"{red} to {black}", shown.text)
        text = f"two-pole tester between {red} and {black}: {shown.text}"
        world.tell("reading", text, **_reading("two-pole tester", "test dead", red, black, shown))
        return text

    def check_terminal(self, name: str) -> None:
        """Raise Refused naming the nearest right terminal if there is none of that name."""
        self._world.cabinet.terminal(name)

    def _live(self) -> Live:
        plant, drives = self._world.plant, self._world.site.drives.pair
        emf = tuple(drives[i].motor.emf_v_s_rad * plant.motor_speed(i) for i in (0, 1))
        return Live(
            (plant.duty(0), plant.duty(1)), (plant.motor_current(0), plant.motor_current(1)), (emf[0], emf[1])
        )

    # -- force gauge -----------------------------------------------------------------------------------

    def check_gauge(self, leaf: int, gap_mm: float, height_mm: float, direction: Direction = "closing") -> None:
        """Raise Refused where the gauge can't stand."""
        if self.gauge is not None:
            raise Refused("the force gauge stands already; take it away first")
        site, name = self._world.site, LEAVES[leaf]
        model = site.leaves.pair[leaf]
        low, high = model.ground_clearance_m * 1000, (model.ground_clearance_m + model.height_m) * 1000
        if not low <= height_mm <= high:
            raise Refused(f"the {name} leaf reaches from {low:.0f} to {high:.0f} mm above ground")
        left = gap_at_angle(site, leaf, direction, self._world.plant.angle(leaf)) * 1000
        if left <= gap_mm:
            done, first = ("closed", "open") if direction == "closing" else ("opened", "shut")
            raise Refused(f"the {name} leaf is {done} further than that gap; {first} it first")

    def place_gauge(
        self, leaf: int, gap_mm: float, height_mm: float, rest: str, direction: Direction = "closing"
    ) -> str:
        """Set the gauge before a closing edge, or before the leaf's open side at its edge."""
        self.check_gauge(leaf, gap_mm, height_mm, direction)
        self.gauge = (LEAVES[leaf], gap_mm, height_mm)
        self._rest, self._direction = rest, direction
        self._arm(leaf)
        before = "at" if direction == "closing" else "in front of the opening side of"
        return (
            f"The force gauge stands {before} the {LEAVES[leaf]} leaf, gap {gap_mm:.0f} mm, "
            f"height {height_mm:.0f} mm."
        )

    def _arm(self, leaf: int) -> None:
        assert self.gauge is not None
        _name, gap_mm, height_mm = self.gauge
        spring = GAUGE_STIFFNESS
        if self._rest == "by hand":
            spring = 1.0 / (1.0 / GAUGE_STIFFNESS + 1.0 / HAND_STIFFNESS)
        thing = force_gauge(
            touch_angle(self._world.site, leaf, self._direction, gap_mm / 1000),
            self._world.site.leaves.pair[leaf].width_m,
            height_m=height_mm / 1000,
            stiffness_n_m=spring,
            opening=self._direction == "opening",
        )
        self._world.plant.place_obstacle(leaf, GAUGE_SLOT, thing)

    @property
    def gauge_direction(self) -> Direction:
        """Which movement the gauge is set to measure."""
        return self._direction

    def read_gauge(self) -> str:
        """Store the last curve as a reading, judge it alone, and make the gauge ready for the next."""
        if self.gauge is None:
            raise Refused("no force gauge stands; place it first")
        curve = self._world.plant.gauge_curve()
        if len(curve.time_s) < 2:
            way = "close" if self._direction == "closing" else "open"
            raise Refused(f"nothing has touched the force gauge yet; let the leaf {way} on it")
        name, gap_mm, height_mm = self.gauge
        rules = self._rules.at(gap_mm)
        point = f"{name}, {self._direction}, {gap_mm:g}, {height_mm:g}"
        index = 1 + sum((r.leaf, r.gap_mm, r.height_mm) == self.gauge for r in self._here())
        force = as_kept(curve.force_n, seed=self._world.seed, where=point, index=index)
        figures = evaluate(curve.time_s, force, rules)
        if not figures.is_whole:
            raise Refused(f"the record is {curve.time_s[-1]:.1f} s long; leave the gauge until {rules.residual_time}")
        verdict = judge(figures, rules)
        self.records.append(
            ForceRecord(
                name,
                gap_mm,
                height_mm,
                self._rest,
                *_thinned(curve.time_s, force),
                figures,
                verdict.outcome,
                self._direction,
            )
        )
        where = f"{name} leaf" if self._direction == "closing" else f"{name} leaf, opening"
        text = (
            f"{where}, gap {gap_mm:.0f} mm, height {height_mm:.0f} mm, reading {index}: peak "
            f"{figures.peak_n:.0f} N, {figures.above_static_s:.2f} s above 150 N, {figures.static_n:.0f} N after it"
        )
        self._world.tell(
            "force",
            text,
            leaf=name,
            gap_mm=gap_mm,
            height_mm=height_mm,
            direction=self._direction,
            rest=self._rest,
            peak_n=round(figures.peak_n, 1),
            above_150_s=round(figures.above_static_s, 4),
            static_n=round(figures.static_n, 1),
            residual_s=round(figures.above_residual_s, 4),
            verdict=verdict.outcome,
            index=index,
        )
        self._arm(LEAVES.index(name))  # type: ignore[arg-type]
        return text

    def _here(self) -> list[ForceRecord]:
        """Readings in the direction that is being measured."""
        return [record for record in self.records if record.direction == self._direction]

    def remove_gauge(self) -> str:
        """Take the gauge away."""
        if self.gauge is None:
            raise Refused("no force gauge stands")
        self._world.plant.remove_obstacle(LEAVES.index(self.gauge[0]), GAUGE_SLOT)  # type: ignore[arg-type]
        self.gauge = None
        return "The force gauge is away."

    # -- faces -----------------------------------------------------------------------------------------

    def meter_face(self) -> tuple[str, str]:
        """(what the multimeter is set to, what it shows); empty while it is not in hand."""
        if self._probes is None:
            return "", ""
        return self._probes.function, self._shown.text if self._shown is not None else "not read yet"

    @property
    def meter_probes(self) -> tuple[str, str]:
        """Where the probes are: (red, black)."""
        return (self._probes.red, self._probes.black) if self._probes is not None else ("", "")

    def tester_face(self) -> tuple[str, str]:
        """(where the two-pole tester was last, what it showed)."""
        return self._tester


def _reading(instrument: str, function: str, red: str, black: str, shown: Shown) -> dict[str, str | float]:
    return {
        "instrument": instrument,
        "function": function,
        "red": red,
        "black": black,
        "value": shown.value if shown.value is not None else float("nan"),
        "unit": shown.unit,
        "shown": shown.text,
    }


def _thinned(time_s: Floats, force_n: Floats) -> tuple[Floats, Floats]:
    """Every sample of the first second, every tenth after it: what a plot can show."""
    first = int((time_s <= 1.0).sum())
    keep = [*range(first), *range(first, len(time_s), 10)]
    return time_s[keep], force_n[keep]
