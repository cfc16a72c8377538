"""A job as data: who wants what, how the gate is found, what a seed may change, what is asked and what is judged.

Frozen models of `gudgeon-job/1`. Nothing here knows how a job is played or graded.
"""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any, Final, Literal, TypeAlias, get_args

from pydantic import Field, PrivateAttr, StringConstraints

from sim.site import Site
from sim.site.fields import OURS, PRACTICE, SURVEY, Frozen, choice, part, quantity, required_words
from sim.site.guards import GuardName
from sim.units import LeafName
from sim.world.played_back import LONGEST_MESSAGE, LONGEST_STATE

CheckName: TypeAlias = Literal[
    "survey complete",
    "leaves swing free",
    "stop circuit proved",
    "leaf directions proved",
    "dead proved before work",
    "guards declared truly",
    "guards proved",
    "activation suits the users",
    "travel learned",
    "leaf order true",
    "slow zone before the gap",
    "auto-close closes",
    "beam reopens at three places",
    "unplugged receiver refused",
    "transmitter opens",
    "closing force measured",
    "cause found",
    "fault put right",
    "runs after the repair",
    "person freed",
    "no bridge left",
    "handed over",
    "made safe",
    "every guard predicted",
    "every guard seen",
]
CHECK_NAMES: Final[tuple[str, ...]] = get_args(CheckName)
"""Every acceptance check there is; graders and jobs use these names."""

Milestone: TypeAlias = Literal[
    "cordon up",
    "sources off",
    "drives released",
    "leaves half open",
    "drives engaged",
    "supply restored",
    "absent guard declared",
    "gate described",
    "both leaves jogged",
    "leads swapped",
    "delays set",
    "slow zone set",
    "auto-close on",
    "transmitter enrolled",
    "sheet sealed",
    "cause concluded",
]
MILESTONES: Final[tuple[str, ...]] = get_args(Milestone)
"""What a guide's steps may wait for beside the acceptance checks; they weigh nothing."""

Family: TypeAlias = Literal[
    "first steps",
    "commissioning from bare",
    "supply and wiring",
    "guards",
    "drive and motor",
    "mechanics",
    "settings",
    "radio and access",
    "weather",
    "inherited bad work",
    "maintenance visit",
    "handover",
    "trapped person",
]
FAMILIES: Final[tuple[str, ...]] = get_args(Family)
"""What a job is about, in the order in which families are listed."""

Line: TypeAlias = Annotated[str, StringConstraints(min_length=1, max_length=400)]
Lines: TypeAlias = Annotated[tuple[Line, ...], Field(strict=False)]
Name: TypeAlias = Annotated[str, StringConstraints(min_length=1, max_length=80)]
SheetValue: TypeAlias = str | int | float | bool
FileName: TypeAlias = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_-]{0,60}\.yaml$")]
"""A plain file name: no folders, so that a scenario can't reach outside its own folder."""


class Angles(Frozen):
    """Where the leaves stand at arrival."""

    active: float = quantity(0.0, "°", 0.0, 130.0, "the active leaf; 0 is shut", SURVEY)
    inactive: float = quantity(0.0, "°", 0.0, 130.0, "the inactive leaf; 0 is shut", SURVEY)


class Enrolled(Frozen):
    """A transmitter that the controller knows already."""

    tag: Name = part("which transmitter of the site, by its tag")
    holder: Name = part("who carries it; an invented name")
    function: Literal["open", "close", "step", "halt", "pedestrian"] = choice("step", "what its button does")


class Placed(Frozen):
    """A body that is there at arrival."""

    body: Literal["test body", "adult", "child", "pram", "dog", "bicycle", "car", "van"] = choice(
        "test body", "which body"
    )
    x_m: float = quantity(0.0, "m", -10.0, 20.0, "along the opening from the active hinge", SURVEY)
    y_m: float = quantity(-2.0, "m", -20.0, 20.0, "towards the inside, negative is outside", SURVEY)
    lying: bool = choice(False, "lying flat instead of standing: true or false")
    turn_deg: float = quantity(0.0, "°", -360.0, 360.0, "turned on the spot; 0 looks inside", SURVEY)


class Held(Frozen):
    """What is in the gap at a leaf's hinge at arrival."""

    leaf: LeafName = part("which leaf")
    what: Literal["stick of 40 mm", "hand dummy of 50 mm", "hand"] = choice(
        "hand", "what is there; a hand is found there and never a tool"
    )


class Failed(Frozen):
    """A fault that the gate is found with."""

    fault: Name = part("which fault, by its name in the catalogue (`gudgeon faults`)", OURS)
    share: float = quantity(1.0, "-", 0.0, 1.0, "how grave: 0 mild, 1 grave", OURS)


class LivedAct(Frozen):
    """Something that was done at the gate before anybody looks."""

    at_s: float = quantity(0.0, "s", 0.0, 36_000.0, "when, since the gate stood ready", OURS)
    act: Name = part("what was done, by its name in the catalogue of actions or of acts beyond it", OURS)
    given: dict[Name, SheetValue] = part("its arguments", OURS, default={})


MOST_CHANGES: Final = 2000
"""Changes that a record may have."""


class Driven(Frozen):
    """What was asked of one leaf."""

    duty: float = quantity(0.0, "-", -1.0, 1.0, "target duty; negative closes", OURS)
    slew_per_s: float = quantity(2.0, "1/s", 0.0, 1000.0, "how fast the duty moves to it", OURS)
    limit_a: float = quantity(8.0, "A", 0.0, 1000.0, "current limit", OURS)
    brake: bool = choice(False, "dropped at once, motor shorted: true or false", OURS)


class Change(Frozen):
    """What a recorded controller put out from an instant on; what is left out is as before, at first all off."""

    at_s: float = quantity(0.0, "s", 0.0, 36_000.0, "when, on the gate's clock", OURS)
    active: Driven | None = part("what was asked of the active leaf", OURS, default=None)
    inactive: Driven | None = part("what was asked of the inactive leaf", OURS, default=None)
    lamp: bool | None = choice(None, "the warning lamp: true or false", OURS)
    emitter_supply: bool | None = choice(None, "the supply of the beams' emitters: true or false", OURS)
    yard_light: bool | None = choice(None, "the yard light: true or false", OURS)
    lock: bool | None = choice(None, "the lock: true or false", OURS)
    state: str | None = part("state that its panel showed", OURS, most=LONGEST_STATE, default=None)
    message: str | None = part("message that its panel showed", OURS, most=LONGEST_MESSAGE, default=None)


class Record(Frozen):
    """What a stranger's controller put out: played back in its place, for its code is never run from a file."""

    controller: Name = part("its name, for people", OURS)
    digest: Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}$")] = part(
        "SHA-256 of its file, hexadecimal; nothing is run by it", OURS
    )
    ends_at_s: float = quantity(0.0, "s", 0.0, 36_000.0, "where the record ends, on the gate's clock", OURS)
    changes: Annotated[tuple[Change, ...], Field(strict=False)] = part(
        "in the order of time", OURS, most=MOST_CHANGES, default=()
    )


class Lived(Frozen):
    """What a gate lived through, up to the moment at which the window opens; the rest comes by itself."""

    acts: Annotated[tuple[LivedAct, ...], Field(strict=False)] = part("in their order", OURS, most=400, default=())
    opens_at_s: float = quantity(0.0, "s", 0.0, 36_000.0, "when somebody comes, since the gate stood ready", OURS)
    record: Record | None = part("what another controller put out, to be played back", OURS, default=None)


class Arrival(Frozen):
    """How the gate is found. In a draw, only the keys that stand there replace those of the job."""

    mains: Literal["on", "off"] = choice("on", "the mains isolator: on or off")
    battery_linked: bool = choice(True, "the battery link is fitted: true or false; no matter without a battery")
    released: Annotated[tuple[LeafName, ...], Field(strict=False)] = part(
        "leaves whose drive is released", most=2, default=()
    )
    swapped_leads: Annotated[tuple[LeafName, ...], Field(strict=False)] = part(
        "leaves whose two motor cores are exchanged", most=2, default=()
    )
    angles_deg: Angles = part("where the leaves stand", default=Angles())
    sheet: dict[Name, SheetValue] = part("settings that differ from the defaults", default={})
    learned: bool = choice(False, "the controller has learned the travel: true or false")
    transmitters: Annotated[tuple[Enrolled, ...], Field(strict=False)] = part(
        "transmitters enrolled already", most=20, default=()
    )
    bridged: Annotated[tuple[GuardName, ...], Field(strict=False)] = part(
        "guards with a wire link across their input", most=5, default=()
    )
    unplugged: Annotated[tuple[GuardName, ...], Field(strict=False)] = part(
        "guards whose plug is out", most=5, default=()
    )
    bodies: Annotated[tuple[Placed, ...], Field(strict=False)] = part("bodies on the plan", most=8, default=())
    in_hinge_gaps: Annotated[tuple[Held, ...], Field(strict=False)] = part(
        "what is in the gaps at the hinges", most=2, default=()
    )
    faults: Annotated[tuple[Failed, ...], Field(strict=False)] = part(
        "what failed after it was commissioned; hidden from whoever is at work", OURS, most=8, default=()
    )
    lived: Lived | None = part("what happened at the gate after that, before anybody looks", OURS, default=None)


class Choice(Frozen):
    """One outcome of a draw."""

    label: Name | None = part("for the author's eyes; never shown to a trainee", OURS, default=None)
    site: dict[Name, Any] = part("site keys, dotted, and their new values", OURS, default={})
    arrival: Arrival | None = part("arrival keys and their new values", OURS, default=None)
    solution: FileName | None = part("in this outcome this file in the folder `solutions`", OURS, default=None)
    values: dict[Name, SheetValue] = part("names that the solution may use between angle brackets", OURS, default={})


class Draw(Frozen):
    """Something a seed decides."""

    name: Name = part("what is drawn", OURS)
    one_of: Annotated[tuple[Choice, ...], Field(strict=False, min_length=2)] = part("the outcomes", OURS, most=12)
    first: Annotated[int, Field(ge=0, le=11)] = 0
    """Which outcome the first pass (seed 0) has."""


class GuideStep(Frozen):
    """A sentence of the guide; done when its check passes, never by a tick."""

    text: Line = part("what to do next", OURS)
    check: CheckName | Milestone = part("the check or milestone that shows it is done", OURS)


class Question(Frozen):
    """Predict, then see."""

    question: Line = part("what is asked", OURS)
    guard: GuardName = part("which guard is tripped", OURS)
    moving: Literal["opening", "closing"] = part("what the gate is doing when it is tripped", OURS)
    answers: Annotated[tuple[Line, ...], Field(strict=False, min_length=2)] = part("answers offered", OURS, most=8)
    right: Line = part("the answer that the gate gives", OURS)
    why: Line = part("said when the answer has been seen", OURS)


class Job(Frozen):
    """A job: everything a session needs to know beside the seed."""

    format: Literal["gudgeon-job/1"] = choice("gudgeon-job/1", "format of the file: gudgeon-job/1", OURS)
    title: Name = required_words("the job's title", 80, OURS)
    order: Annotated[int, Field(ge=0, le=999, description="place in the list of jobs; 0 to 999")] = 100
    grade: Literal["learner", "working", "senior"] = choice("learner", "learner (guided), working or senior", OURS)
    family: Family | None = choice(None, "what it is about, one of: " + ", ".join(FAMILIES), OURS)
    minutes: Annotated[
        int, Field(ge=1, le=480, description="how long it should take on the gate's own clock [min]; 1 to 480")
    ] = 30
    site: FileName = part("file in scenarios/sites", OURS)
    brief: str = required_words("the customer's own words", 2000, OURS)
    points: Lines = part("what is wanted, in short lines", OURS, most=12, default=())
    arrival: Arrival = part("how the gate is found", default=Arrival())
    draw: Annotated[tuple[Draw, ...], Field(strict=False)] = part("what a seed decides", OURS, most=8, default=())
    teaching: str = required_words("the point of it all, shown in the debrief", 1000, OURS)
    cautions: Lines = part("what must be read before it starts", PRACTICE, most=25, default=())
    steps: Annotated[tuple[GuideStep, ...], Field(strict=False)] = part(
        "the guide of a learner's job", OURS, most=40, default=()
    )
    questions: Annotated[tuple[Question, ...], Field(strict=False)] = part(
        "predict, then see", OURS, most=20, default=()
    )
    acceptance: Annotated[tuple[CheckName, ...], Field(strict=False)] = part(
        "checks that must pass: " + ", ".join(CHECK_NAMES), OURS, most=len(CHECK_NAMES), default=()
    )
    graded: bool = choice(True, "false for a free yard: nothing is asked, handed over or judged", OURS)
    allowed: Literal["all"] | Annotated[tuple[Name, ...], Field(strict=False)] = part(
        "kinds of action, or all", OURS, default="all"
    )
    tools: Literal["all"] | Annotated[tuple[Name, ...], Field(strict=False)] = part(
        "instruments in the bag, or all", OURS, default="all"
    )
    parts: Literal["all"] | Annotated[tuple[Name, ...], Field(strict=False)] = part(
        "spare parts in the van, as `replace` names them, or all", OURS, default="all"
    )
    solution: FileName | None = part("file in the folder `solutions` beside the job", OURS, default=None)
    mistake: FileName | None = part(
        "file in the folder `mistakes` beside the job: the obvious wrong way, for what the first pass draws",
        OURS,
        default=None,
    )

    _path: Path = PrivateAttr(default=Path())
    _site: Site | None = PrivateAttr(default=None)

    @property
    def path(self) -> Path:
        """The file it was read from."""
        return self._path

    @property
    def base_site(self) -> Site:
        """The site before anything is drawn."""
        if self._site is None:
            raise ValueError(f"the job '{self.title}' was not read by load_job, so its site was not read either")
        return self._site

    def allows(self, kind: str) -> bool:
        """Whether a kind of action may be used in this job."""
        return self.allowed == "all" or kind in self.allowed
