"""The learning record on the console: what a played attempt leaves behind, whose it is, and graded again."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from trainer.grading.judge import Grader
from trainer.job import scenarios_folder
from trainer.session.desk import Desk
from trainer.window.app import App


def attempt(folder: Path, who: str) -> Path:
    """Somebody begins a job and leaves it as it is, graded."""
    session = Desk(judge=Grader(), folder=folder, who=who).start("meet_the_gate", "practice", 0)
    assert session.do("cordon").accepted
    session.finish()
    assert session.debrief() is not None
    session.close()
    return session.journal.folder


def test_what_was_played_stands_on_the_record(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A job played by its solution, and one left undone by somebody else: two records, each with what comes next."""
    assert gudgeon("play", "meet_the_gate", "--out", tmp_path / "out").code == 0
    sessions = tmp_path / "out" / "session"
    left = attempt(sessions, "Ada Holm")
    said = gudgeon("record", "--sessions", sessions, "--json")
    nobody, ada = json.loads(said.out)["trainees"]
    assert (nobody["who"], ada["who"]) == ("", "Ada Holm")
    (family,) = nobody["families"]
    assert (family["family"], family["best"], family["trend"]) == ("first steps", 100.0, "too few")
    assert nobody["next"]["family"] != "first steps"
    assert ada["families"][0]["last"] < 50.0
    told = gudgeon("record", "--sessions", sessions, "--who", "Ada Holm")
    assert told.out.startswith("Ada Holm, ")
    assert "Practise next:" in told.out
    assert left.name == "meet_the_gate-0002"


def test_a_result_of_today_grades_to_the_same_mark(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """What was kept when the job ended, and its features graded again; a mark that differs is told, and ends in 1."""
    folder = attempt(tmp_path, "")
    said = gudgeon("regrade", "--sessions", tmp_path, "--json")
    (row,) = json.loads(said.out)
    assert said.code == 0
    assert (row["kept"], row["kept_result"]) == (row["today"], row["today_result"])
    result = json.loads((folder / "result.json").read_text())
    (folder / "result.json").write_text(json.dumps(result | {"score": 99.0}))
    said = gudgeon("regrade", "--sessions", tmp_path)
    assert said.code == 1
    assert f"99 {row['kept_result']}" in said.out
    assert f"{row['today']:g} {row['today_result']}" in said.out


def test_an_attempt_that_was_ended_is_ended_when_it_is_opened_again(tmp_path: Path) -> None:
    """Also one that no act of the trainee's ended; its result and its day stay what they were."""
    folder = attempt(tmp_path, "Ada Holm")
    before = {file: (folder / file).read_bytes() for file in ("result.json", "attempt.json")}
    session = Desk(judge=Grader(), folder=tmp_path).reopen(folder)
    assert session.observe().finished
    assert session.debrief() is not None
    session.close()
    assert {file: (folder / file).read_bytes() for file in before} == before


def test_competences_are_told_by_debrief_and_record(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Of one attempt beside its findings, on the page too; over all attempts with how often each was shown."""
    listed = scenarios_folder() / "competences" / "gate_fitter.yaml"
    out = tmp_path / "out"
    played = gudgeon("play", "meet_the_gate", "--out", out, "--competences", listed, "--json")
    told = {each["name"]: each["state"] for each in json.loads(played.out)["competences"]}
    assert told["Proves what protects"] == "shown"
    assert told["Measures force"] == "not asked"
    assert "Proves what protects" in (out / "debrief.html").read_text(encoding="utf-8")
    attempt(out / "session", "")
    said = gudgeon("record", "--sessions", out / "session", "--competences", listed, "--json")
    (trainee,) = json.loads(said.out)["trainees"]
    proves = next(each for each in trainee["competences"] if each["name"] == "Proves what protects")
    assert (proves["state"], proves["shown"], proves["asked"]) == ("not shown", 1, 2)
    table = gudgeon("record", "--sessions", out / "session", "--competences", listed)
    assert "1 of 2" in table.out
    assert gudgeon("record", "--competences", tmp_path / "absent.yaml").code == 2


def test_an_instructor_overrules_and_both_marks_are_printed(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A finding by its title, one that is added, both with name and reason: console, page and print tell both marks,
    the kept result keeps its bytes, and the record counts what was ruled."""
    folder = attempt(tmp_path, "Ada Holm")
    before = (folder / "result.json").read_bytes()
    ruled = ("overrule", folder.name, "--sessions", tmp_path, "--by", "T. Marsh", "--json")
    listed = json.loads(gudgeon(*ruled).out)
    assert listed["overruled"] is None
    assert "every guard seen" in [each["name"] for each in listed["findings"]]
    for finding in ("Each guard seen at work", "Each guard predicted"):
        said = gudgeon(*ruled, "--finding", finding, "--as", "passed", "--reason", "Shown to me on the gate.")
        assert said.code == 0, said.err
    added = ("--finding", "mud on the lens", "--part", "record", "--points", "5", "--reason", "Left there.")
    told = json.loads(gudgeon(*ruled, *added).out)
    assert told["overruled"]["score"] > 80.0 > told["computed"]["score"]
    assert (folder / "result.json").read_bytes() == before
    again = gudgeon("debrief", folder, "--out", tmp_path / "printed")
    assert "(computed)" in again.out
    assert "Overruled by an instructor" in again.out
    page = (tmp_path / "printed" / "debrief.html").read_text(encoding="utf-8")
    assert "mud on the lens" in page
    assert "mud on the lens" in (folder / "debrief.html").read_text(encoding="utf-8")
    printed = " ".join(each.extract_text() for each in PdfReader(folder / "debrief.pdf").pages)
    assert "mud on the lens" in printed
    assert "Ada Holm" in printed
    (trainee,) = json.loads(gudgeon("record", "--sessions", tmp_path, "--json").out)["trainees"]
    assert trainee["families"][0]["last"] == told["overruled"]["score"]
    assert f"(computed {told['computed']['score']:.0f})" in gudgeon("record", "--sessions", tmp_path).out


def test_worth_is_told_where_a_cause_is_asked_for(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Elsewhere the option says why there is none, beside the result and not in it."""
    folder = attempt(tmp_path, "Ada Holm")
    said = gudgeon("debrief", folder.name, "--sessions", tmp_path, "--worth", "--json")
    assert said.code == 0
    assert "asks for no cause" in said.err
    assert json.loads(said.out)["worth"] is None


def test_a_debrief_is_opened_in_the_window(
    gudgeon: Callable[..., Any], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An attempt that has ended, with both marks; from there its yard and back, and nothing of the result changes."""
    folder = attempt(tmp_path / "sessions", "Ada Holm")
    at = ("--sessions", tmp_path / "sessions")
    ruled = ("--finding", "each guard seen at work", "--as", "passed", "--by", "T. Marsh", "--reason", "I saw it.")
    assert gudgeon("overrule", folder.name, *at, *ruled).code == 0
    before = (folder / "result.json").read_bytes()
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path / "home"))
    told: list[str] = []

    def watched(app: App) -> None:
        app.frame(0.0)
        told.append(json.dumps(app.root.tree(), default=str))
        app.show_work()
        app.frame(0.0)
        told.append(json.dumps(app.root.tree(), default=str))
        app.leave_session()

    monkeypatch.setattr(App, "run", watched)
    without = gudgeon("debrief", folder.name, *at, "--window")
    assert (without.code, told) == (2, [])
    assert "no display" in without.err
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")
    assert gudgeon("debrief", folder.name, *at, "--window").code == 0
    debriefed, yard = told
    assert "Overruled by an instructor" in debriefed
    assert "I saw it." in debriefed
    assert "Overruled by an instructor" not in yard
    assert (folder / "result.json").read_bytes() == before


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (("every guard seen", "--by", "T. Marsh"), "reason: allowed"),
        (("every guard seen", "--reason", "Seen."), "by: allowed"),
        (("every gard seen", "--by", "T. Marsh", "--reason", "Seen."), "did you mean 'every guard seen'"),
        (("every guard seen", "--as", "great"), "allowed: passed, marginal, failed, not judged"),
    ],
)
def test_a_ruling_that_is_wrong_is_refused(
    arguments: tuple[str, ...], told: str, gudgeon: Callable[..., Any], tmp_path: Path
) -> None:
    """One sentence, and nothing is kept; a name and a reason belong to every ruling."""
    folder = attempt(tmp_path, "")
    said = gudgeon("overrule", folder.name, "--sessions", tmp_path, "--finding", *arguments)
    assert said.code == 2
    assert told in " ".join(said.err.replace("│", " ").split())
    assert not (folder / "overruled.json").exists()


def test_an_attempt_that_is_not_there_is_told_with_the_nearest(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Also where there are none at all."""
    attempt(tmp_path, "")
    assert "did you mean 'meet_the_gate-0001'?" in gudgeon("overrule", "meet_the_gat", "--sessions", tmp_path).err
    assert "there are none in" in gudgeon("debrief", "nothing", "--sessions", tmp_path / "empty").err


@pytest.mark.slow
def test_a_drill_stands_on_the_record_and_is_looked_back_on(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Under its job's family; its debrief is that of the drill, with what the instructor did in it."""
    file = scenarios_folder() / "drills" / "beam_goes_dark.yaml"
    played = json.loads(gudgeon("drill", file, "--out", tmp_path, "--who", "Ada Holm", "--json").out)
    at = ("--sessions", tmp_path / "session")
    (trainee,) = json.loads(gudgeon("record", *at, "--json").out)["trainees"]
    (family,) = trainee["families"]
    assert trainee["who"] == "Ada Holm"
    assert (family["family"], family["last"]) == ("first steps", played["grade"]["score"])
    name = family["attempts"][0]["folder"]
    back = gudgeon("debrief", name, *at, "--json")
    assert back.code == 0, back.err
    told = json.loads(back.out)
    assert told["score"] == played["grade"]["score"]
    assert [each["title"] for each in told["findings"]] == [each["title"] for each in played["grade"]["findings"]]


def test_whoever_has_done_nothing_is_told_so(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """An empty folder is a record without families; a name that nobody has is one sentence with the nearest one."""
    empty = gudgeon("record", "--sessions", tmp_path)
    assert empty.code == 0
    assert "No attempt has been graded yet." in empty.out
    attempt(tmp_path, "Ada Holm")
    said = gudgeon("record", "--sessions", tmp_path, "--who", "Ada Hom")
    assert said.code == 2
    assert "did you mean 'Ada Holm'?" in said.err
    assert gudgeon("record", "--sessions", tmp_path / "absent").code == 2
