"""What a screen, a console or a test may see of a session: frozen, everything needed to draw, nothing hidden.

The window owns no state of the gate: every frame it asks `Session.observe()` for one `View` and draws it.
Nothing here names a hidden fault or the draw of a seed.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal

from sim.controller.ports import Panel
from sim.mechanics.axes import LeafAxes
from sim.units import Us
from sim.world.notebook import Conclusion, Note
from trainer.session.acceptance import CheckView
from trainer.session.lookback import CompetenceView, LeftView, MeasuredView, OverruledView, WayRow
from trainer.session.sheet_log import Change
from trainer.session.tools import ToolsView
from trainer.session.wiring import WiringView
from trainer.session.yard_view import BodyView, WeatherView

if TYPE_CHECKING:
    from sim.mechanics.mounting import Mounting, Point
    from trainer.session.force_book import PlanPoint
    from trainer.session.needs import Need
    from trainer.session.worth import WorthView


@dataclass(frozen=True, slots=True)
class DriveView:
    """What moves a leaf, as one sees it standing there."""

    kind: str
    """`linear ram`, `hydraulic ram`, `articulated arm` or `underground`."""
    mounting: Mounting
    """Where it is held, in the leaf's own axes."""


@dataclass(frozen=True, slots=True)
class RidgeView:
    """Something under a leaf that it may rub on."""

    name: str
    at_deg: float
    """Leaf angle over its crest."""
    reach_deg: float
    """From the crest to its foot."""
    height_m: float
    radius_m: float
    """From the hinge."""


@dataclass(frozen=True, slots=True)
class GapView:
    """The gap between a leaf's heel and the post behind it, which closes while the leaf opens."""

    post_m: float
    heel_along_m: float
    heel_across_m: float
    now_m: float
    """How wide it is with the leaf where it stands."""
    held: str = ""
    """What is held in it, else ''."""
    force_n: float = 0.0
    """How hard that is squeezed."""


@dataclass(frozen=True, slots=True)
class LeafView:
    """One leaf as it stands."""

    name: str
    angle_deg: float
    """0 shut, positive towards open."""
    open_stop_deg: float
    width_m: float
    height_m: float
    motor_a: float
    engaged: bool
    """The drive is coupled (manual release locked)."""
    hinge_xy_m: tuple[float, float]
    """On the plan: x along the opening from the active hinge, y towards the inside."""
    opens_towards: Literal["inside", "outside"]
    drive: DriveView
    touching: str
    """What the leaf presses on now: '', 'open stop', 'closed stop', 'other leaf', or a body's name."""
    contact_n: float
    gap: GapView
    ground: tuple[RidgeView, ...] = ()
    """What lies under the leaf, high enough to be seen."""
    motor_rad_s: float = 0.0
    """How fast its motor turns [rad/s], as one hears it; positive opens."""
    relay: Literal["", "opening", "closing"] = ""
    """The direction relay that the board has pulled in for it; that it clicks can be heard at the cabinet."""
    thickness_m: float = 0.06
    """Of its frame."""
    clearance_m: float = 0.06
    """Between its lower edge and the ground, at the hinge."""
    gauge_heights_m: tuple[float, ...] = ()
    """How high above the ground the force gauge is set before it: low, middle, high."""

    @property
    def axes(self) -> LeafAxes:
        """Where it hangs on the plan, and which way its own axes point there."""
        return LeafAxes(self.hinge_xy_m[0], self.name == "inactive", self.opens_towards == "outside")

    def spot(self, along_m: float, off_m: float, angle_deg: float | None = None) -> Point:
        """A point of the leaf on the plan [m]: `along_m` from the hinge, `off_m` from its middle towards the side it
        opens to; at its own angle, or at another one [°]."""
        turned = math.radians(self.angle_deg if angle_deg is None else angle_deg)
        cos, sin = math.cos(turned), math.sin(turned)
        return self.axes.on_plan((along_m * cos - off_m * sin, along_m * sin + off_m * cos))

    def angle_of(self, point: Point) -> float:
        """The angle [°] at which the leaf would point at a place on the plan."""
        x, y = self.axes.own(point)
        return math.degrees(math.atan2(y, x))

    @property
    def drive_xy_m(self) -> tuple[Point, ...]:
        """Pivots of the drive on the plan, now: on the post, the knee of an arm, on the leaf; the hinge alone for a
        drive that turns its pin."""
        return tuple(map(self.axes.on_plan, self.drive.mounting.points(math.radians(self.angle_deg))))

    @property
    def lever_m(self) -> float:
        """Lever arm of the drive now [m]: how far its ram, or its arm's link, passes by the hinge."""
        return self.drive.mounting.lever(math.radians(self.angle_deg))


@dataclass(frozen=True, slots=True)
class GuardView:
    """One guard device as one sees it in the yard (not as the controller reads it)."""

    name: str
    kind: Literal["beam", "edge", "stop"]
    fitted: bool
    """Whether a device stands on site."""
    tripped: bool
    """Beam cut or covered, edge pressed, stop button in."""
    plugged: bool
    bridged: bool
    ends_xy_m: tuple[tuple[float, float], tuple[float, float]] | None = None
    height_m: float = 0.0
    by_hand: bool = False
    """A card is held before it or a hand presses it, by an action."""


@dataclass(frozen=True, slots=True)
class SettingView:
    """One row of the sheet."""

    name: str
    group: str
    value: str
    unit: str
    help: str
    choices: tuple[str, ...] = ()
    least: float | None = None
    most: float | None = None
    step: float | None = None
    default: str = ""
    state: str = ""
    """For guards: `clear`, `tripped`, `broken`, `` when not used."""
    locked: str = ""
    """Why it can't be changed now, else empty."""
    depends_on: tuple[str, ...] = ()
    """Settings that may forbid a value of this one."""
    found: str = ""
    """As it stood on arrival, where an act wrote on it since; it may stand there again."""


@dataclass(frozen=True, slots=True)
class TerminalView:
    """One terminal of the cabinet drawing."""

    name: str
    part: str
    pin: str
    live: bool
    """Whether a real wire here could be live now: for drawing the caution, not a reading."""


@dataclass(frozen=True, slots=True)
class Curve:
    """One force reading."""

    leaf: str
    gap_mm: float
    height_mm: float
    rest: str
    time_s: tuple[float, ...]
    force_n: tuple[float, ...]
    peak_n: float
    above_150_s: float
    static_n: float
    residual_s: float
    verdict: str
    """`within limits`, `marginal` or `over the limit`; one reading is not a verdict."""
    direction: str = "closing"


@dataclass(frozen=True, slots=True)
class HazardRow:
    """A line of the survey."""

    hazard: str
    protection: str
    """'' while unanswered."""
    choices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the job's guide (learner grade only). Done by what happened, never by a tick."""

    text: str
    done: bool


@dataclass(frozen=True, slots=True, eq=False)
class StripView:
    """What the time strip draws: numpy arrays of equal length (views into the recorder; do not write). Equal to
    itself only, since arrays have no one truth."""

    time_s: object
    channels: Mapping[str, object]
    """`active angle`, `inactive angle` [°], `active current`, `inactive current` [A], `supply` [V],
    `guards` (0/1 any tripped), `commands` (0/1 any pressed)."""
    marks: tuple[tuple[Us, str, str], ...] = ()
    """(when, kind, text): kind is `act`, `event`, `danger`."""
    end_s: float = 0.0
    shown_s: float | None = None
    """While the past is looked at: the instant shown; None when live."""


@dataclass(frozen=True, slots=True)
class FindingView:
    """One line of the debrief."""

    part: str
    outcome: Literal["passed", "failed", "marginal", "skipped"]
    title: str
    what: str
    why: str
    instead: str
    points: float
    grave: bool
    evidence: tuple[tuple[int, Us, str], ...]
    """(journal line, when, text of that line)."""


@dataclass(frozen=True, slots=True)
class DebriefView:
    """The graded result."""

    result: str
    score: float
    lines: tuple[tuple[str, str], ...]
    """Shown separately, e.g. ('Safe?', 'yes'), ('Right?', ...), ('Systematic?', ...)."""
    parts: tuple[tuple[str, float, float], ...]
    """(part, got, of)."""
    findings: tuple[FindingView, ...]
    report_path: str
    measured: tuple[MeasuredView, ...] = ()
    way: tuple[WayRow, ...] = ()
    """The expert's way beside what was done; empty for a job without a solution of its own."""
    left: tuple[LeftView, ...] = ()
    practise: str = ""
    """One thing to practise next."""
    competences: tuple[CompetenceView, ...] = ()
    """How those of a college's list stand, where there is such a list."""
    overruled: OverruledView | None = None
    """What an instructor overruled or added, where one did."""
    worth: WorthView | None = None
    """What each step was worth, once that is known."""


@dataclass(frozen=True, slots=True)
class View:
    """One look at a session."""

    now: Us
    job: str
    """The job's title."""
    grade: str
    place: str
    """The site's name."""
    brief: str
    brief_points: tuple[str, ...]
    mode: Literal["practice", "assessed"]
    seed: int
    paused: bool
    pace: float
    achieved_pace: float
    leaves: tuple[LeafView, ...]
    opening_m: float
    strip_carrier: str
    """Which leaf visibly carries the cover strip."""
    strip_face: Literal["inside", "outside", ""]
    guards: tuple[GuardView, ...]
    bodies: tuple[BodyView, ...]
    lamp_on: bool
    """The lamp is driven; the picture blinks it."""
    mains_on: bool
    battery_linked: bool
    board_on: bool
    cordoned: bool
    weather: WeatherView
    panel: Panel
    settings: tuple[SettingView, ...]
    terminals: tuple[TerminalView, ...]
    gauge: tuple[str, float, float] | None
    """(leaf, gap, height) of the force gauge while it stands."""
    gauge_direction: str
    """Which movement it is to measure: closing or opening."""
    curves: tuple[Curve, ...]
    survey: tuple[HazardRow, ...]
    user_group: str
    notes: tuple[Note, ...]
    """The notebook, in the order in which its lines were begun."""
    conclusions: tuple[Conclusion, ...]
    """What is held to be the cause."""
    steps: tuple[Step, ...]
    questions: tuple[tuple[str, tuple[str, ...], str], ...]
    """Open predictions: (question, possible answers, answer given or '')."""
    acceptance: tuple[tuple[str, str], ...]
    """(check, state): `not yet`, `passed`, `stale`, `failed`."""
    transmitters: tuple[tuple[str, int], ...]
    """(tag, buttons) of the transmitters in the box."""
    strip: StripView
    held: tuple[str, ...]
    """Controls held pressed now, in words."""
    busy: str
    """The action whose time is passing now, else ''."""
    last_reply: str
    alarms: tuple[tuple[Us, str], ...]
    """Dangerous things that happened (someone struck, live work), newest last."""
    finished: bool
    debrief: DebriefView | None = None
    cautions: tuple[str, ...] = field(default=())
    walls: tuple[tuple[str, float, float, float, float], ...] = ()
    """Masonry on the plan: (what it is, least x, least y, along x, along y) [m]."""
    controls: tuple[str, ...] = ("open button", "close button", "step button", "key switch")
    """Wired controls that stand on this site, the stop button apart."""
    strip_overlap_m: float = 0.05
    """How far the cover strip reaches over the other leaf."""
    opens_first: str = "active"
    """The leaf that is free to move while the other is shut, by how the strip lies."""
    loop: tuple[float, float, float, float] | None = None
    """The presence loop in the ground: middle along and inside, extent along and inside [m]."""
    wiring: WiringView = field(default_factory=WiringView)
    """The drawing of the wiring, as one sees it."""
    tools: ToolsView = field(default_factory=ToolsView)
    undo: Change | None = None
    """What would be put back on the sheet next, its time since arrival."""
    checks: tuple[CheckView, ...] = ()
    """The acceptance with what is shown so far."""
    needs: tuple[Need, ...] = ()
    """What must protect at the closing edge, for the users that were written down."""
    force_plan: tuple[PlanPoint, ...] = ()
    """Where a closing leaf is measured, and what was read there."""
    offers: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    """Names that may be given for each kind of place, and for what each repair is done to."""
    graded: bool = True
    """False in a free yard: there is no job to hand over, and nothing is judged."""


@dataclass(frozen=True, slots=True)
class Reply:
    """The answer to `Session.do`: accepted (it is on disk), or refused with the reason."""

    accepted: bool
    text: str = ""
    """What came of it, or why not."""
    line: int = 0
    """Journal line of the accepted action."""
