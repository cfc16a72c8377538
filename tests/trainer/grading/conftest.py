"""A builder of histories by hand, and a whole commissioning run made with it.

The site of these histories: outer beam, both edges and the stop circuit stand there, the inner beam doesn't; the
inactive leaf's motor leads are the wrong way round; the active leaf is free to open first.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace
from types import MappingProxyType

import pytest

from sim.units import Us
from sim.world.actions import CATALOGUE, checked
from sim.world.history import Entry, Event, History, Standing

SECOND = 1_000_000
FITTED = {
    "outer beam": True,
    "inner beam": False,
    "active edge": True,
    "inactive edge": True,
    "stop circuit": True,
}
SURVEY = {
    "meeting edge": ("active edge", "inactive edge"),
    "wall behind the active leaf": ("gap of 500 mm",),
    "inside of the arc": ("force limited", "active edge"),
}
SHEET = {
    "leaves fitted": "not stated",
    "drive kind": "not stated",
    "opens first": "not stated",
    "auto-close": "off",
    "motor effort, closing": 60,
    "motor effort, opening": 60,
    **dict.fromkeys(FITTED, "reopen"),
}
ARRIVAL = Standing(
    sheet=SHEET,
    fitted=FITTED,
    bridged=(),
    unplugged=(),
    swapped_wrong=("inactive",),
    opens_first_truth="active",
    learned=False,
    user_group_truth="anyone",
    user_group_stated="",
    survey={},
    survey_right=SURVEY,
    mains_on=False,
    battery_linked=False,
    released=(),
    sealed=False,
    transmitters=(),
    angle_deg=(0.0, 0.0),
    slow_start_gap_m=None,
    ended="",
)


class Play:
    """Writes a history act by act, and keeps how the gate stands."""

    def __init__(self, standing: Standing = ARRIVAL) -> None:
        self.at = 0
        self.standing = standing
        self.entries: list[Entry] = []
        self.events: list[Event] = []

    def stands(self, **changes: object) -> Play:
        """The gate stands otherwise now."""
        self.standing = replace(self.standing, **changes)
        return self

    def sheet(self, **changes: object) -> Play:
        """The sheet reads otherwise; names with spaces are given as a mapping through `set`."""
        return self.stands(sheet={**self.standing.sheet, **changes})

    def do(self, kind: str, **arguments: object) -> Play:
        """An act, its time passed."""
        self.entries.append(Entry(len(self.entries) + 2, Us(self.at), checked(kind, arguments)))
        self.at += CATALOGUE[kind].takes
        return self

    def tell(self, kind: str, **data: object) -> Play:
        """An event now."""
        text = f"{kind}: {', '.join(f'{k} {v}' for k, v in data.items())}"
        self.events.append(Event(Us(self.at), kind, text, MappingProxyType(data), self.line))
        return self

    def wait(self, seconds: float) -> Play:
        """Time passes."""
        self.at += round(seconds * SECOND)
        return self

    @property
    def line(self) -> int:
        """Journal line of the last act."""
        return self.entries[-1].line if self.entries else 0

    @property
    def history(self) -> History:
        """The history so far."""
        return History(tuple(self.entries), tuple(self.events), self.standing, Us(self.at))

    # -- longer passages -----------------------------------------------------------------------------------

    def set(self, name: str, value: object) -> Play:
        """Write a setting, and the sheet keeps it."""
        self.do("set", setting=name, value=str(value))
        return self.sheet(**{name: value})

    def power(self, on: bool) -> Play:
        """Isolate or restore, with the board following."""
        self.do("restore" if on else "isolate").stands(mains_on=on)
        return self.tell("power", mains=on, battery=False, board=on)

    def prove_dead(self, volts: float = 0.0) -> Play:
        """Prove the tester, test, prove it again."""
        self.do("prove tester").do("test dead", red="board supply, plus", black="board supply, minus")
        self.tell("reading", instrument="two-pole tester", value=volts, unit="V", text=f"{volts} V")
        return self.do("prove tester")

    def swing(self, leaf: str) -> Play:
        """Release, push to both stops, set half open, engage."""
        self.do("release drive", leaf=leaf)
        for stop, angle in (("open stop", 95.0), ("closed stop", 0.0)):
            self.do("push leaf", leaf=leaf, to_deg=angle).tell("stop reached", leaf=leaf, stop=stop, speed_m_s=0.1)
        self.do("push leaf", leaf=leaf, to_deg=45.0)
        self.tell("reading", instrument="spring scale", leaf=leaf, angle_deg=45.0, touched="", value=20.0)
        return self.do("engage drive", leaf=leaf)

    def move(self, leaf: str, way: str, by: str, start: float, end: float, seconds: float = 2.0) -> Play:
        """One leaf driven and come to rest."""
        self.tell("moving", leaf=leaf, direction=way, by=by, angle_deg=start).wait(seconds)
        return self.tell("resting", leaf=leaf, angle_deg=end, from_deg=start)

    def jog(self, leaf: str, way: str = "open") -> Play:
        """Jog a leaf; it turns the wrong way while its leads are wrong."""
        right = (way == "open") != (leaf in self.standing.swapped_wrong)
        self.do("jog press", leaf=leaf, direction=way)
        self.move(leaf, way, "jog", 45.0, 60.0 if right else 30.0)
        return self.do("jog release", leaf=leaf)

    def stop_under_jog(self, stops: bool = True) -> Play:
        """Press the stop while the active leaf is jogged, hold the jog, let both go."""
        self.do("jog press", leaf="active", direction="open")
        self.tell("moving", leaf="active", direction="open", by="jog", angle_deg=50.0).wait(1)
        self.do("press", control="stop button")
        self.tell("guard", guard="stop circuit", tripped=True, moving="opening", place=float("nan"))
        self.wait(1 if stops else 4).tell("resting", leaf="active", angle_deg=58.0, from_deg=50.0).wait(2)
        return self.do("jog release", leaf="active").do("release", control="stop button")

    def swap(self, leaf: str = "inactive", dead: bool = True) -> Play:
        """Isolate, prove dead, swap the leads, restore; or just swap them live."""
        if dead:
            self.power(False).prove_dead()
        self.do("swap motor leads", leaf=leaf)
        wrong = tuple(sorted(set(self.standing.swapped_wrong) ^ {leaf}))
        self.stands(swapped_wrong=wrong)
        return self.power(True) if dead else self

    def trip(self, guard: str, moving: str = "") -> Play:
        """Trip a guard and let it clear."""
        kind = {"beam": "cover beam", "edge": "press edge"}.get(guard.rsplit(" ", 1)[1])
        if kind is None:
            self.do("press", control="stop button")
        else:
            self.do(kind, guard=guard)
        return self.tell("guard", guard=guard, tripped=True, moving=moving, place=float("nan"))

    def pull(self, guard: str) -> Play:
        """Pull a guard's plug and push it back, under power."""
        return self.do("unplug", guard=guard).do("plug in", guard=guard)

    def prove_guards(self, *guards: str) -> Play:
        """Trip and unplug each guard (all that are fitted)."""
        for guard in guards or [name for name, fitted in self.standing.fitted.items() if fitted]:
            self.trip(guard).pull(guard)
        return self

    def learn(self) -> Play:
        """Learn the travel."""
        self.do("learn travel")
        for leaf in ("active", "inactive"):
            self.move(leaf, "open", "learning", 0.0, 95.0, 20).move(leaf, "close", "learning", 95.0, 0.0, 20)
        return self.tell("learned", active=900, inactive=890).stands(learned=True)

    def opens(self, first: str = "active", by: str = "automatic", lag: float = 2.0) -> Play:
        """An opening of both leaves from shut."""
        second = "inactive" if first == "active" else "active"
        for leaf in (first, second):
            self.tell("moving", leaf=leaf, direction="open", by=by, angle_deg=0.0).wait(lag)
        self.wait(15)
        for leaf in (first, second):
            self.tell("resting", leaf=leaf, angle_deg=95.0, from_deg=0.0).wait(lag)
        return self

    def closes(self, last: str = "active", by: str = "automatic", gap_m: float = 0.62, lag: float = 4.0) -> Play:
        """A closing of both leaves from open."""
        first = "inactive" if last == "active" else "active"
        for leaf in (first, last):
            self.tell("moving", leaf=leaf, direction="close", by=by, angle_deg=95.0).wait(1)
        self.wait(15)
        for leaf in (first, last):
            self.tell("stop reached", leaf=leaf, stop="closed stop", speed_m_s=0.04).wait(lag)
            self.tell("resting", leaf=leaf, angle_deg=0.1, from_deg=95.0)
        return self.stands(slow_start_gap_m=gap_m)

    def press(self, control: str = "open button") -> Play:
        """Press and release a control."""
        return self.do("press", control=control).wait(0.5).do("release", control=control)

    def enrol_and_open(self) -> Play:
        """Enrol a transmitter, open with it, and let the gate shut by itself."""
        self.do("enrol transmitter", holder="Ada", function="open").stands(transmitters=(("Ada", "open"),))
        self.do("press transmitter", transmitter="blue tag").wait(3)
        self.tell("command", what="open", source="blue tag")
        return self.opens().do("release transmitter", transmitter="blue tag").wait(20).closes()

    def cut(self, place: float, lying: bool = True, reopens: bool = True, body: str = "test body") -> Play:
        """Close, put a body into the beam, see it reopen, take it away."""
        self.press("close button")
        for leaf in ("active", "inactive"):
            self.tell("moving", leaf=leaf, direction="close", by="automatic", angle_deg=95.0)
        self.wait(2).do("place body", body=body, x_m=place, y_m=-0.15, lying=lying)
        self.tell("guard", guard="outer beam", tripped=True, moving="closing", place=place)
        if reopens:
            self.wait(0.5)
            for leaf in ("active", "inactive"):
                self.tell("moving", leaf=leaf, direction="open", by="automatic", angle_deg=70.0)
        self.wait(10)
        for leaf in ("active", "inactive"):
            self.tell("resting", leaf=leaf, angle_deg=95.0 if reopens else 0.0, from_deg=95.0)
        self.do("remove body", body=body)
        return self.tell("guard", guard="outer beam", tripped=False, moving="", place=float("nan"))

    def refuse_unplugged(self, refuses: bool = True) -> Play:
        """Pull the receiver's plug and ask for closing."""
        self.do("unplug", guard="outer beam").press("close button").wait(4)
        if refuses:
            self.tell("refused", what="close", why="the outer beam reads open")
        else:
            self.tell("moving", leaf="active", direction="close", by="automatic", angle_deg=95.0).wait(2)
            self.tell("resting", leaf="active", angle_deg=50.0, from_deg=95.0)
        return self.do("plug in", guard="outer beam")

    def measure(self, times: int = 3, peak: float = 300.0, rest: str = "rigid rest", **figures: float) -> Play:
        """Force readings at one point."""
        self.do("place force gauge", leaf="active", gap_mm=300.0, height_mm=1000.0, rest=rest)
        curve = {"above_150_s": 0.2, "static_n": 40.0, "residual_s": 1.0, **figures}
        for index in range(times):
            self.press("close button").wait(12)
            self.tell(
                "force", leaf="active", gap_mm=300.0, height_mm=1000.0, rest=rest, peak_n=peak, **curve, index=index
            )
            self.do("read force gauge")
        return self.do("remove force gauge")

    def survey(self) -> Play:
        """Write the whole survey, rightly."""
        self.do("state user group", group="anyone")
        for hazard, answers in SURVEY.items():
            self.do("survey hazard", hazard=hazard, protection=answers[0])
        survey = {hazard: answers[0] for hazard, answers in SURVEY.items()}
        return self.stands(user_group_stated="anyone", survey=survey)

    def leave(self, shown: str = "release, stop, lamp, freeing a person, monthly checks") -> Play:
        """Notes, seal, hand over."""
        self.do("note", text="inactive leaf turned the wrong way, leads swapped").do("seal sheet", name="N. Weber")
        return self.do("hand over", shown=shown).stands(ended="handed over", sealed=True)


Stage = Callable[[Play], object]

STAGES: dict[str, Stage] = {
    "survey": lambda p: p.survey(),
    "cordon": lambda p: p.do("cordon").stands(cordoned=True),
    "swing": lambda p: p.swing("active").swing("inactive"),
    "restore": lambda p: p.power(True),
    "describe": lambda p: p.set("leaves fitted", 2).set("drive kind", "linear ram").set("opens first", "active"),
    "absent": lambda p: p.set("inner beam", "not fitted"),
    "stop": lambda p: p.stop_under_jog(),
    "jog": lambda p: p.jog("active").jog("inactive"),
    "swap": lambda p: p.swap(),
    "jog again": lambda p: p.jog("inactive"),
    "guards": lambda p: p.prove_guards(),
    "learn": lambda p: p.learn(),
    "sheet": lambda p: (
        p.set("leaf delay, opening", 2).set("leaf delay, closing", 4).set("slow zone before stop", 25)
        .set("auto-close", "on").set("auto-close after", 20)
    ),
    "transmitter": lambda p: p.enrol_and_open(),
    "beam": lambda p: p.press("open button").opens().cut(0.4).cut(2.0).cut(3.6),
    "receiver": lambda p: p.refuse_unplugged(),
    "force": lambda p: p.measure(),
    "leave": lambda p: p.leave(),
}  # fmt: skip
"""The run in one right order; each stage may be left out, moved or replaced."""

FIRST_RUN = (
    "survey complete",
    "leaves swing free",
    "stop circuit proved",
    "leaf directions proved",
    "dead proved before work",
    "guards declared truly",
    "guards proved",
    "travel learned",
    "leaf order true",
    "slow zone before the gap",
    "auto-close closes",
    "beam reopens at three places",
    "unplugged receiver refused",
    "transmitter opens",
    "closing force measured",
    "no bridge left",
    "handed over",
)


def commissioned(
    *,
    without: Iterable[str] = (),
    order: Iterable[str] | None = None,
    before: dict[str, Stage] | None = None,
    **instead: Stage,
) -> Play:
    """A whole run: stages in order, some left out, some replaced, something done before some."""
    play = Play()
    left_out = set(without)
    for name in order or STAGES:
        if before and name in before:
            before[name](play)
        if name not in left_out:
            instead.get(name.replace(" ", "_"), STAGES[name])(play)
    return play


@pytest.fixture
def play() -> Play:
    """An empty history at arrival."""
    return Play()


@pytest.fixture
def plays() -> type[Play]:
    """The builder itself, for more than one history in a test."""
    return Play


@pytest.fixture
def run() -> Callable[..., Play]:
    """The whole run, to be varied."""
    return commissioned


@pytest.fixture
def stages() -> tuple[str, ...]:
    """Names of the run's stages in their order."""
    return tuple(STAGES)


@pytest.fixture
def first_run() -> tuple[str, ...]:
    """What the job asks for."""
    return FIRST_RUN
