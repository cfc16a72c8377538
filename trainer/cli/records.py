"""The learning record on the console, and kept results graded again."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from trainer.cli import printed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from trainer.records import Attempt, FamilyRecord, LearningRecord, Next, SoFar
    from trainer.session.desk import JobCard

SessionsOption = Annotated[
    Path | None, typer.Option("--sessions", help="The folder attempts are kept in, instead of your own.")
]
CompetencesOption = Annotated[
    Path | None, typer.Option("--competences", help="A college's list: say how each competence stands.")
]
JsonFlag = Annotated[bool, typer.Option("--json", help="Print the result as JSON.")]
WhoOption = Annotated[str | None, typer.Option("--who", help="Only this trainee, as given to `start --who`.")]

NOBODY = "whoever works here"
"""Whose an attempt is of which nobody said who it was."""


def record(
    who: WhoOption = None,
    sessions: SessionsOption = None,
    competences: CompetencesOption = None,
    as_json: JsonFlag = False,
) -> None:
    """Show what was done of each family of jobs, how it goes, and what to practise next.

    The families are spaced by FSRS, a published scheme of spaced repetition. It orders what to practise; it
    predicts nobody's skill.
    """
    from trainer.grading import read_competences
    from trainer.records import learning_record, next_job, shown_so_far

    wanted = read_competences(competences) if competences is not None else None
    cards, attempts = _read(sessions)
    told = []
    for name in _names(attempts, who):
        made = learning_record(attempts, name, _now())
        told.append((made, next_job(made, cards), shown_so_far(made, wanted.competences if wanted else ())))
    if as_json:
        printed.as_json({"trainees": [_as_base_types(*each) for each in told]})
        return
    for made, following, shown in told:
        _print(made, following)
        if wanted is not None:
            print(f"{wanted.title}:")
            rows = [
                (each.view.name, each.view.state, f"{each.shown} of {each.asked}", each.view.why) for each in shown
            ]
            printed.table(("competence", "", "shown", "the last time it was asked"), rows)
        print()


def regrade(sessions: SessionsOption = None, as_json: JsonFlag = False) -> None:
    """Grade every kept result again by today's weights, beside the mark it was given; nothing is changed.

    Ends with 1 where a mark differs. A result of another model of grading keeps its mark.
    """
    _cards, attempts = _read(sessions)
    rows: list[dict[str, Any]] = [
        {
            "attempt": each.folder.name,
            "kept": each.kept.stored.score,
            "kept_result": each.kept.stored.result,
            "model": each.kept.features["grade_model"],
            "today": None if each.kept.today is None else each.kept.today.score,
            "today_result": None if each.kept.today is None else each.kept.today.result,
        }
        for each in attempts
    ]
    if as_json:
        printed.as_json(rows)
    else:
        cells = [
            (row["attempt"], f"{row['kept']:g} {row['kept_result']}",
             f"made by {row['model']}" if row["today"] is None else f"{row['today']:g} {row['today_result']}")
            for row in rows
        ]  # fmt: skip
        printed.table(("attempt", "kept", "by today's weights"), cells)
    differ = [
        row
        for row in rows
        if row["today"] not in (None, row["kept"]) or row["today_result"] not in (None, row["kept_result"])
    ]
    raise typer.Exit(1 if differ else 0)


def _now() -> Any:
    from datetime import UTC, datetime

    return datetime.now(UTC)


def _read(sessions: Path | None) -> tuple[list[JobCard], list[Attempt]]:
    """(the jobs there are, graded attempts); what can't be read is told beside the result."""
    from trainer.cli.attempt import desk
    from trainer.records import graded_attempts

    front = desk(sessions) if sessions is not None else desk()
    if sessions is not None and not sessions.is_dir():
        printed.stop(f"there is no folder '{sessions}'")
    cards = front.jobs()
    attempts, troubles = graded_attempts(front.folder, {card.name: card for card in cards})
    for trouble in troubles:
        printed.note(f"Left out: {trouble}")
    return cards, attempts


def _names(attempts: list[Attempt], who: str | None) -> tuple[str, ...]:
    """Whose records are asked for. One that is asked for and isn't there ends the command."""
    from sim.errors import nearest_right
    from trainer.records import trainees

    there = trainees(attempts)
    if who is None:
        return there or ("",)
    if who not in there:
        others = "; there are: " + ", ".join(filter(None, there)) if any(there) else "; nobody gave a name yet"
        printed.stop(f"there is no graded attempt of '{who}'{nearest_right(who, there, otherwise=others)}")
    return (who,)


def _print(made: LearningRecord, following: Next | None) -> None:
    print(f"{made.who or NOBODY}, {made.today:%d %B %Y}")
    if not made.families:
        print("No attempt has been graded yet.")
    else:
        heads = ("family", "attempts", "last", "best", "trend", "due", "chance today")
        printed.table(heads, [_row(each, made) for each in made.families])
    if following is not None:
        print(f"Practise next: {following.family}, '{following.title}' ({following.job}). {following.why}")


def _row(each: FamilyRecord, made: LearningRecord) -> tuple[str, ...]:
    due = f"{each.due}" + (" (due)" if each.due <= made.today else "")
    return (
        each.family or "other jobs",
        str(len(each.attempts)),
        _last(each),
        f"{each.best:.0f}",
        each.trend,
        due,
        f"{each.recall:.0%}",
    )


def _last(each: FamilyRecord) -> str:
    """The latest score; where an instructor overruled something, with the computed one."""
    latest = each.attempts[-1]
    if latest.overruled is None:
        return f"{each.last:.0f}"
    return f"{each.last:.0f} (computed {latest.kept.stored.score:.0f})"


def _as_base_types(made: LearningRecord, following: Next | None, shown: Sequence[SoFar]) -> dict[str, Any]:
    return {
        "who": made.who,
        "today": f"{made.today}",
        "families": [
            {
                "family": each.family,
                "trend": each.trend,
                "last": each.last,
                "best": each.best,
                "due": f"{each.due}",
                "recall": round(each.recall, 4),
                "attempts": [_attempt(one) for one in each.attempts],
            }
            for each in made.families
        ],
        "next": None
        if following is None
        else {"family": following.family, "job": following.job, "title": following.title, "why": following.why},
        "competences": [
            {
                "name": each.view.name,
                "about": each.view.about,
                "state": each.view.state,
                "why": each.view.why,
                "shown": each.shown,
                "asked": each.asked,
            }
            for each in shown
        ],
    }


def _attempt(one: Attempt) -> dict[str, Any]:
    return {
        "folder": one.folder.name,
        "job": one.about.job,
        "grade": one.about.grade,
        "when": one.when.isoformat(),
        "score": one.mark.score,
        "result": one.mark.result,
        "kept_score": one.kept.stored.score,
        "overruled_score": None if one.overruled is None else one.overruled.score,
    }
