"""A finished session as the reports get it: invented people, a made-up yard, one of everything."""

from __future__ import annotations

from html.parser import HTMLParser

import numpy as np
import pytest

from sim.controller.ports import Panel
from sim.mechanics.mounting import Mounting
from sim.units import SECOND, Us
from sim.world.notebook import Note
from trainer.session.view import (
    Curve,
    DebriefView,
    DriveView,
    FindingView,
    GapView,
    GuardView,
    HazardRow,
    LeafView,
    SettingView,
    StripView,
    View,
)
from trainer.session.yard_view import WeatherView


def curve(peak: float, rest: str = "rigid rest", end: float = 6.0) -> Curve:
    """A blow, a push, and the leaf's reversing; piecewise linear."""
    time = (0.0, 0.03, 0.09, 0.15, 0.42, 0.5, end)
    force = (0.0, 0.8 * peak, peak, 0.45 * peak, 0.33 * peak, 12.0, 0.0)
    return Curve("active", 300.0, 900.0, rest, time, force, peak, 0.24, 11.9, 0.46, "within limits")


def strip() -> StripView:
    """Two leaves that open, rest and close, one after the other; a guard trips while they close."""
    time = np.concatenate([np.arange(0.0, 60.0, 0.05), [60.0, 240.0], np.arange(240.05, 300.0, 0.05)])

    def travel(start: float, back: float) -> np.ndarray:
        up, down = np.clip((time - start) / 16, 0, 1), np.clip((time - back) / 16, 0, 1)
        return 92.0 * (up * up * (3 - 2 * up) - down * down * (3 - 2 * down))

    active, inactive = travel(12.0, 252.0), travel(15.0, 246.0)
    driven = [
        np.where(np.abs(np.gradient(a, time)) > 0.05, 2.4 + 0.3 * np.sin(time), 0.0) for a in (active, inactive)
    ]
    return StripView(
        time,
        {
            "active angle": active,
            "inactive angle": inactive,
            "active current": driven[0],
            "inactive current": -driven[1] * np.where(time > 200, 1, -1),
            "supply": np.full(len(time), 26.8),
            "guards": ((time > 255) & (time < 262)).astype(float),
            "commands": (((time > 10) & (time < 11)) | ((time > 244) & (time < 245))).astype(float),
        },
        marks=((Us(256 * SECOND), "danger", "an adult was struck"), (Us(10 * SECOND), "act", "press: open button")),
        end_s=310.0,
    )


FINDINGS = (
    FindingView(
        "outcome", "passed", "Both leaves turn the right way",
        "The inactive leaf's leads were swapped with both sources off and proved dead.", "", "", 0.0, False,
        ((17, Us(171 * SECOND), "swap motor leads: inactive"),),
    ),
    FindingView(
        "safety", "failed", "A guard was bridged and left",
        "The inner beam's input was bridged and the gate closed by itself with the link in place.",
        "A bridged guard protects nobody; whoever walks there next relies on it.",
        "Declare the beam as not fitted once the survey says what covers the hazard instead.",
        20.0, True,
        ((23, Us(252 * SECOND), "bridge: inner beam"),
         (31, Us(388 * SECOND), "the gate closed by itself, inner beam bridged")),
    ),
    FindingView(
        "verification", "marginal", "Closing force measured",
        "Within the limit, but near it: peak 386 N of 400 N.",
        "Only the force-time curve on a calibrated meter proves a force.",
        "Lower speed or a longer slow zone, then three readings again.", 4.0, False,
        ((41, Us(612 * SECOND), "read force gauge"),),
    ),
    FindingView(
        "record", "skipped", "Monthly checks shown", "There was no hand-over in this attempt.",
        "The user has to know what to look at between visits.", "Show them, and let the user repeat the release.",
        0.0, False, (),
    ),
)  # fmt: skip


@pytest.fixture
def debrief() -> DebriefView:
    return DebriefView(
        "Not yet: one grave finding",
        39.0,
        (("Safe?", "no"), ("Right?", "nearly"), ("Systematic?", "yes")),
        (("outcome", 26.0, 30.0), ("safety", 0.0, 20.0), ("diagnosis", 0.0, 0.0), ("verification", 13.0, 20.0)),
        FINDINGS,
        "",
    )


def leaf(name: str, at: float) -> LeafView:
    """A leaf at rest."""
    drive, gap = DriveView("linear ram", Mounting((-0.15, 0.15), (0.85, 0.05))), GapView(0.07, 0.06, 0.05, 0.13)
    return LeafView(name, 0.0, 92.0, 2.2, 1.8, 0.0, True, (at, 0.0), "inside", drive, "", 0.0, gap)


SETTINGS = (
    SettingView("leaves fitted", "leaves", "2", "", ""),
    SettingView("opens first", "leaves", "active", "", ""),
    SettingView("leaf delay, opening", "leaves", "2", "s", ""),
    SettingView("outer beam", "guards", "reopen", "", ""),
    SettingView("inner beam", "guards", "not fitted", "", ""),
    SettingView("active edge", "guards", "back off", "", ""),
    SettingView("stop circuit", "guards", "halt", "", ""),
    SettingView("slow zone before stop", "travel", "20", "% of travel", ""),
    SettingView("motor effort, closing", "effort", "35", "%", ""),
    SettingView("auto-close after", "timing", "30", "s", ""),
)


@pytest.fixture
def view(debrief: DebriefView) -> View:
    return View(
        now=Us(2_532_400_000), job="First run", grade="working", place="Tannery Lane, yard gate", brief="",
        brief_points=(),
        mode="practice", seed=3, paused=False, pace=1.0, achieved_pace=1.0,
        leaves=(leaf("active", 0.0), leaf("inactive", 4.4)), opening_m=4.4,
        strip_carrier="active", strip_face="inside",
        guards=(
            GuardView("outer beam", "beam", True, False, True, False),
            GuardView("inner beam", "beam", False, True, True, True),
            GuardView("active edge", "edge", True, False, True, False),
            GuardView("stop circuit", "stop", True, False, True, False),
        ),
        bodies=(), lamp_on=False, mains_on=True, battery_linked=True, board_on=True, cordoned=True,
        weather=WeatherView(wind_m_s=2.0, mean_m_s=2.0),
        panel=Panel(
            "closed", "", travel=(4210, None), transmitters=(("M. Ashdown", "open"), ("caretaker", "step")),
            log=((Us(1_200_000_000), "travel learned"), (Us(1_500_000_000), "outer beam tripped while closing")),
            sealed=True,
        ),
        settings=SETTINGS, terminals=(), gauge=None,
        gauge_direction="closing",
        curves=(curve(372.0), curve(384.0), curve(366.0)),
        survey=(
            HazardRow("meeting edge of the leaves", "active edge and inactive edge", ()),
            HazardRow("gap at the hinge", "", ()),
        ),
        user_group="anyone", notes=(Note(Us(300_000_000), "inactive leaf turns the wrong way", "seen", 1),),
        conclusions=(), steps=(), questions=(),
        acceptance=(("travel learned", "passed"), ("closing force measured", "stale"), ("user shown", "not yet")),
        transmitters=(), strip=strip(), held=(), busy="", last_reply="", alarms=(), finished=True, debrief=debrief,
    )  # fmt: skip


@pytest.fixture(scope="session")
def readings() -> tuple[Curve, Curve, Curve]:
    return curve(372.0), curve(384.0), curve(366.0)


@pytest.fixture(scope="session")
def trace() -> StripView:
    return strip()


class Reader(HTMLParser):
    """A page taken apart: its words, its tags with their attributes, its ids; elements must close in order."""

    VOID = frozenset({"meta", "br", "img", "link", "input", "hr"})

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: list[str] = []
        self.style = ""
        self._open: list[str] = []
        self.feed(page)
        self.close()
        assert self._open == [], f"left open: {self._open}"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in self.VOID:
            self._open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self._open, f"</{tag}> closes nothing"
        assert self._open.pop() == tag, f"</{tag}> closes something else"

    def handle_data(self, data: str) -> None:
        if self._open and self._open[-1] == "style":
            self.style += data
        elif data.strip():
            self.text.append(" ".join(data.split()))

    @property
    def words(self) -> str:
        """All words of the page in order, in one line."""
        return " ".join(self.text)


@pytest.fixture(scope="session")
def reader() -> type[Reader]:
    return Reader
