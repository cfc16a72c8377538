"""The commissioning record: what was surveyed, set, learned and measured, who has what, when to come again."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import Final

from sim.controller.ports import Panel
from sim.said import joined, said
from sim.units import clock_text
from sim.world.notebook import Note
from trainer.language import _
from trainer.reports.force_record import points
from trainer.reports.page import Heading, page
from trainer.session.view import Curve, GuardView, HazardRow, SettingView, View

NEXT_VISIT: Final = said(
    "in six months, and after every failure and every change of force, speed, leaf, edge or drive"
)
"""Common practice for a shared gate (homes twelve months, schools three), where the caller says nothing else."""


@dataclass(frozen=True, slots=True)
class GuardRow:
    """One guard: what stands there, what the sheet was told, how it was left."""

    name: str
    stands: str
    sheet: str
    left: str
    """What is wrong with how it was left; empty if nothing."""


@dataclass(frozen=True, slots=True)
class CommissioningRecord:
    """What the page says, all of it taken from one look at a session."""

    is_handed_over: bool
    is_sealed: bool
    user_group: str
    survey: tuple[HazardRow, ...]
    settings: tuple[SettingView, ...]
    guards: tuple[GuardRow, ...]
    travel: tuple[tuple[str, int | None], ...]
    """(leaf, learned travel in pulses; None if not learned)."""
    acceptance: tuple[tuple[str, str], ...]
    curves: tuple[Curve, ...]
    transmitters: tuple[tuple[str, str], ...]
    """(holder, what the button does)."""
    log: tuple[tuple[str, str], ...]
    """(date and time by the board's own clock, what it noted)."""
    counted: str
    """How often it moved, met something and was stopped by a guard, in words."""
    learned: str
    """At what temperature the load was learned, in words."""
    notes: tuple[Note, ...]
    next_visit: str


def record_of(view: View, next_visit: str = NEXT_VISIT) -> CommissioningRecord:
    """The record of a session as it stands; not handed over, it says so."""
    sheet = {setting.name: setting.value for setting in view.settings}
    failed = [state for _, state in view.acceptance if state != "passed"]
    return CommissioningRecord(
        is_handed_over=view.finished and not failed,
        is_sealed=view.panel.sealed,
        user_group=view.user_group,
        survey=view.survey,
        settings=view.settings,
        guards=tuple(
            GuardRow(
                guard.name,
                said("fitted" if guard.fitted else "not fitted"),
                sheet.get(guard.name, said("not asked")),
                _left(guard),
            )
            for guard in view.guards
        ),
        travel=tuple((leaf.name, travel) for leaf, travel in zip(view.leaves, view.panel.travel, strict=False)),
        acceptance=view.acceptance,
        curves=view.curves,
        transmitters=view.panel.transmitters,
        log=_dated(view.panel),
        counted=view.panel.counted,
        learned=view.panel.learned,
        notes=view.notes,
        next_visit=next_visit,
    )


def _left(guard: GuardView) -> str:
    wrong = ((said("bridged"), guard.bridged), (said("unplugged"), guard.fitted and not guard.plugged))
    return joined([word for word, is_so in wrong if is_so], ", ")


def _dated(panel: Panel) -> tuple[tuple[str, str], ...]:
    """The controller's log by its own clock; by the time since it began where it has none."""
    dates = panel.dates or tuple(clock_text(at) for at, _ in panel.log)
    return tuple((date, text) for date, (_, text) in zip(dates, panel.log, strict=True))


def commissioning_html(heading: Heading, record: CommissioningRecord) -> str:
    """The page as one file that needs nothing beside it."""
    groups = [(name, list(rows)) for name, rows in groupby(record.settings, key=lambda setting: setting.group)]
    return page(
        "commissioning.html",
        _("Commissioning record"),
        heading,
        record=record,
        groups=groups,
        force_points=points(record.curves),
    )
