"""The survey: who uses the gate, where people can be hurt, and what protects them there."""

from __future__ import annotations

from sim.said import listed, said
from trainer.grading.checks.check import Check, failed, not_yet, passed
from trainer.grading.finding import Verdict
from trainer.grading.story import Story, same


def _complete(story: Story) -> Verdict:
    standing = story.standing
    wrong, open_ = [], []
    for hazard, right in standing.survey_right.items():
        written = standing.survey.get(hazard, "")
        if not written:
            open_.append(hazard)
        elif not any(same(written, answer) for answer in right):
            wrong.append(said("{hazard} (written: {written})", hazard=hazard, written=written))
    if not standing.user_group_stated:
        open_.append(said("who uses the gate"))
    elif not same(standing.user_group_stated, standing.user_group_truth):
        wrong.append(said("who uses the gate (written: {written})", written=standing.user_group_stated))
    cited = [deed.cite for deed in story.done("survey hazard", "state user group")]
    if wrong:
        return failed(said("The survey is not true to the site: {wrong}.", wrong=listed(wrong)), *cited)
    if open_:
        return not_yet(said("Not answered: {open}.", open=listed(open_)), *cited)
    return passed(
        said("User group and all {hazards} hazards are written down rightly.", hazards=len(standing.survey_right)),
        *cited,
    )


CHECKS = (
    Check(
        name="survey complete",
        part="record",
        title="Survey of hazards and user group",
        why="What must be protected, and how well, follows from who uses the gate and where it can hurt them. "
        "A hazard nobody wrote down is a hazard nobody guards.",
        instead="Walk the site before touching anything; name each hazard, what protects there, and the user group.",
        judge=_complete,
    ),
)
