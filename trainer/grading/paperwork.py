"""The record part beside survey and handover: what was done is written down, and the sheet is sealed."""

from __future__ import annotations

from typing import Final

from trainer.grading.checks.check import Check, not_applicable, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import Story


def _written(story: Story) -> Verdict:
    notes = story.done("note")
    if not notes:
        return not_yet("The notebook is empty.")
    return passed("The notebook says something of what was found or done.", *[d.cite for d in notes[:3]])


def _sealed(story: Story) -> Verdict:
    touched = story.done("set", "reset sheet", "unseal sheet")
    if not story.standing.sealed and not touched:
        return not_applicable("Nobody wrote on the sheet.")
    if not story.standing.sealed:
        return not_yet("The sheet was left open.", *[d.cite for d in story.done("unseal sheet")])
    return passed("The sheet is sealed under a name.", *[d.cite for d in story.done("seal sheet")])


CHECKS: Final = (
    Check(
        name="work written down",
        part="record",
        title="Work written down",
        why="The next fitter starts from your notes. No document, no handover.",
        instead="Write in the notebook what you found and what you changed, when you found and changed it.",
        judge=_written,
    ),
    Check(
        name="sheet sealed",
        part="record",
        title="Sheet sealed",
        why="A sheet anybody can change is what makes guards disappear and effort grow.",
        instead="Seal the sheet at handover; unsealing asks for a name and a reason.",
        judge=_sealed,
    ),
)
"""Judged where a job asks for a handover."""
