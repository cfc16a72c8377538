"""What a screen, a console or a test may see of a session: frozen, everything needed to draw, nothing hidden.

The window owns no state of the gate: every frame it asks `Session.observe()` for one `View` and draws it.
Nothing here names a hidden fault or the draw of a seed.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from sim.controller.ports import Panel
from sim.units import Us


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
    ram_post_xy_m: tuple[float, float]
    ram_leaf_xy_m: tuple[float, float]
    """Ends of the drive on the plan, now."""
    touching: str
    """What the leaf presses on now: '', 'open stop', 'closed stop', 'other leaf', or a body's name."""
    contact_n: float


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
class BodyView:
    """A body standing or lying on the plan."""

    name: str
    x_m: float
    y_m: float
    size_m: tuple[float, float, float]
    """Along x, along y, height [m]."""
    lying: bool


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


@dataclass(frozen=True, slots=True)
class StripView:
    """What the time strip draws: numpy arrays of equal length (views into the recorder; do not write)."""

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
    leaves: tuple[LeafView, LeafView]
    opening_m: float
    strip_carrier: str
    """Which leaf visibly carries the cover strip."""
    strip_face: Literal["inside", "outside"]
    guards: tuple[GuardView, ...]
    bodies: tuple[BodyView, ...]
    lamp_on: bool
    """The lamp is driven; the picture blinks it."""
    mains_on: bool
    battery_linked: bool
    board_on: bool
    cordoned: bool
    wind_m_s: float
    panel: Panel
    settings: tuple[SettingView, ...]
    terminals: tuple[TerminalView, ...]
    meter: tuple[str, str]
    """(function and probe places, reading with unit); ('', '') when not in hand."""
    meter_probes: tuple[str, str]
    tester: tuple[str, str]
    gauge: tuple[str, float, float] | None
    """(leaf, gap, height) of the force gauge while it stands."""
    curves: tuple[Curve, ...]
    survey: tuple[HazardRow, ...]
    user_group: str
    notes: tuple[tuple[Us, str], ...]
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
    wind_from_deg: float = 0.0
    """Where the wind comes from, on the plan: 0 from the inside (up), 90 from the right."""
    controls: tuple[str, ...] = ("open button", "close button", "step button", "key switch")
    """Wired controls that stand on this site, the stop button apart."""
    strip_overlap_m: float = 0.05
    """How far the cover strip reaches over the other leaf."""


@dataclass(frozen=True, slots=True)
class Reply:
    """The answer to `Session.do`: accepted (it is on disk), or refused with the reason."""

    accepted: bool
    text: str = ""
    """What came of it, or why not."""
    line: int = 0
    """Journal line of the accepted action."""
