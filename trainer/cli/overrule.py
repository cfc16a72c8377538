"""An instructor's rulings on an attempt, and its debrief printed again with both marks."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, cast

import typer

from trainer.cli import printed
from trainer.cli.records import CompetencesOption, JsonFlag, SessionsOption

if TYPE_CHECKING:
    from trainer.grading import Ruling
    from trainer.records import Kept
    from trainer.session.session import Session
    from trainer.session.view import View

SessionArgument = Annotated[str, typer.Argument(help="An attempt: the name of its folder, or a path to it.")]

OUTCOMES = {"passed": "passed", "marginal": "marginal", "failed": "failed", "not judged": "skipped"}
"""How an instructor says it, and how it is kept."""


def overrule(
    session: SessionArgument,
    finding: Annotated[
        str | None, typer.Option("--finding", help="The finding, by its name or title; with --part one of your own.")
    ] = None,
    outcome: Annotated[str, typer.Option("--as", help="passed, marginal, failed or not judged")] = "failed",
    points: Annotated[float | None, typer.Option("--points", help="Points it costs, of 100.")] = None,
    part: Annotated[
        str | None,
        typer.Option("--part", help="To add a finding: outcome, safety, diagnosis, economy, verification, record."),
    ] = None,
    grave: Annotated[bool, typer.Option("--grave", help="What is added is a grave unsafe act.")] = False,
    by: Annotated[str, typer.Option("--by", help="The instructor's name.")] = "",
    reason: Annotated[str, typer.Option("--reason", help="Why, in a sentence or two.")] = "",
    sessions: SessionsOption = None,
    competences: CompetencesOption = None,
    as_json: JsonFlag = False,
) -> None:
    """Overrule a finding of a graded attempt, or add one, with a name and a reason; or list what can be overruled.

    The computed mark stays as it was given; the overruled one stands beside it wherever a mark is shown. What was
    overruled once is kept; of several rulings on one finding the last counts.
    """
    from trainer.grading import Ruling, add_ruling, read_rulings
    from trainer.records import read_kept
    from trainer.session.attempt import now

    folder = _folder(session, sessions)
    kept = read_kept(folder)
    rulings = read_rulings(folder)
    if finding is not None:
        if outcome not in OUTCOMES:
            raise typer.BadParameter(f"'{outcome}'; allowed: {', '.join(OUTCOMES)}", param_hint="--as")
        if kept.today is None:
            printed.stop(f"{folder}: made by {kept.features['grade_model']}, which can't be reckoned with any more")
        name, told = _named(kept, finding), cast("Any", OUTCOMES[outcome])
        ruling = Ruling(name, told, by.strip(), reason.strip(), now(), points, cast("Any", part), grave)
        rulings = add_ruling(folder, kept.features, ruling)
        _print_again(folder, competences)
    _tell(folder, kept, rulings, as_json)


def debrief(
    session: SessionArgument,
    sessions: SessionsOption = None,
    competences: CompetencesOption = None,
    as_json: JsonFlag = False,
    out: Annotated[Path | None, typer.Option("--out", help="Write page and print here too.")] = None,
    window: Annotated[bool, typer.Option("--window", help="Open it in the window instead.")] = False,
    worth: Annotated[
        bool,
        typer.Option("--worth", help="Work out what each measurement told, which may take a minute or two."),
    ] = False,
) -> None:
    """Print the debrief of a graded attempt once more, with what was overruled: here, and as HTML and PDF with --out.

    The attempt is played again from its journal, so its job, site and physics must be those of then. What each
    measurement was worth is shown where it is known already, or with --worth; marks don't depend on it.
    """
    from trainer.cli.attempt import open_debrief

    folder = _folder(session, sessions)
    if window:
        open_debrief(folder, competences)
    view = _looked_at(folder, competences, worth)
    result = view.debrief
    if result is None:
        printed.stop(f"{folder}: this attempt has not ended, so it is not graded")
    if out is not None:
        _write(view, folder, out)
    if as_json:
        from dataclasses import asdict

        printed.as_json({"job": view.job, "seed": view.seed, **asdict(result)})
    else:
        printed.debrief(view.job, view.seed, result)


def _folder(session: str, sessions: Path | None) -> Path:
    """The folder of an attempt. Ends the command where there is none, naming the nearest."""
    from sim.errors import nearest_right
    from trainer.cli.attempt import desk
    from trainer.session.attempt import RESULT

    above = desk(sessions).folder if sessions is not None else desk().folder
    folder = next((each for each in (above / session, Path(session)) if (each / RESULT).is_file()), None)
    if folder is not None:
        return folder
    there = [result.parent.name for result in sorted(above.glob(f"*/{RESULT}"))]
    others = f"; there are: {', '.join(there)}" if there else f"; there are none in {above}"
    return printed.stop(f"there is no graded attempt '{session}'{nearest_right(session, there, otherwise=others)}")


def _named(kept: Kept, finding: str) -> str:
    """The name of a finding that was given by its name or its title, large or small."""
    from trainer.grading import check_titles
    from trainer.grading.safety.catalogue import RULES

    titles = {title.lower(): name for name, title in check_titles().items()}
    titles |= {rule.title.lower(): rule.name for rule in RULES.values()}
    titles |= {each.title.lower(): each.name for each in kept.findings}
    names = {name.lower(): name for name in titles.values()}
    wanted = finding.strip().lower()
    return names.get(wanted) or titles.get(wanted) or finding.strip()


def _looked_at(folder: Path, competences: Path | None, worth: bool = False) -> View:
    """An attempt as it ended, played again from its journal; `worth`: with the table of its gate made if need be."""
    from trainer.cli.attempt import desk
    from trainer.drills import look_back

    printed.note("Playing the attempt again from its journal.")
    session = look_back(folder, desk(folder.parent, competences=competences, hints=True))
    try:
        if worth:
            _weigh(session)
        return session.observe()
    finally:
        session.close()


def _weigh(session: Session) -> None:
    """Make the table that worth is reckoned by, telling how far it is; or say why there is nothing to weigh."""
    from sim.errors import CannotLearn
    from trainer.diagnosis.advising import Advice
    from trainer.session.worth import NO_CAUSE

    adviser = session.assignment.adviser
    if not isinstance(adviser, Advice):
        printed.note(NO_CAUSE)
        return
    try:
        adviser.make(lambda done, of: printed.note(f"What each measurement was worth: part {done} of {of}."))
    except CannotLearn as error:
        printed.note(f"What each measurement was worth can't be worked out: {error}")


def _print_again(folder: Path, competences: Path | None) -> None:
    """Write page and print of the attempt anew beside its journal; where that can't be done, say so and go on."""
    from sim.errors import GudgeonError

    try:
        _write(_looked_at(folder, competences), folder, folder)
    except GudgeonError as error:
        printed.note(f"The ruling is kept; page and print were not written anew: {error}")


def _write(view: View, folder: Path, out: Path) -> None:
    from trainer.cli.attempt import report

    try:
        written = report(view, folder, out)
    except OSError as error:
        printed.stop(f"{out}: can't be written ({error.strerror})")
    printed.note(f"The debrief is in {written.debrief} and {written.printed}.")


def _tell(folder: Path, kept: Kept, rulings: tuple[Ruling, ...], as_json: bool) -> None:
    """Both marks, what can be overruled, and what was."""
    from trainer.grading.overruling import overruled_view

    view = overruled_view(kept.features, rulings) if kept.today is not None else None
    if as_json:
        from dataclasses import asdict

        printed.as_json(
            {
                "attempt": folder.name,
                "computed": asdict(kept.stored),
                "overruled": asdict(view) if view is not None else None,
                "findings": [asdict(each) for each in kept.findings],
            }
        )
        return
    print(f"{folder.name}: computed {kept.stored.score:g} of 100, {kept.stored.result}")
    rows = [
        (each.name, each.part, "not judged" if each.outcome == "skipped" else each.outcome, f"{each.points:g}")
        for each in kept.findings
    ]
    printed.table(("finding", "part", "computed", "points lost"), rows)
    if view is not None:
        printed.overruled(view)
