"""The command line parses, calls one room, prints, and ends with an exit code; errors are sentences."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from trainer import CAUTION
from trainer.cli import commands

ROOT = Path(__file__).resolve().parents[2]
SITE = ROOT / "scenarios/sites/mill_lane.yaml"


def flat(text: str) -> str:
    """Text without the frames and line breaks of a help page."""
    return " ".join(text.replace("│", " ").split())


def test_help_holds_the_caution_and_every_command(gudgeon: Callable[..., Any]) -> None:
    """Who asks for help reads what this is not, and what it can do."""
    said = gudgeon("--help")
    assert said.code == 0
    assert CAUTION in flat(said.out)
    for command in ("start", "jobs", "play", "drill", "run", "force", "settings", "chart", "check", "schema"):
        assert f" {command} " in said.out


def test_an_option_of_a_command_before_the_command_is_told(gudgeon: Callable[..., Any]) -> None:
    """It would else be read and forgotten, and the report be somewhere else."""
    said = gudgeon("--out", "elsewhere", "jobs")
    assert (said.code, said.out) == (2, "")
    assert "`gudgeon jobs ... --out elsewhere`" in said.err
    assert gudgeon("jobs").code == 0


def test_help_is_quick() -> None:
    """Help loads no room that is dear: no compiler, no plots, no window, no models."""
    program = (
        "import sys\nfrom trainer.cli import main\nsys.argv = ['gudgeon', '--help']\n"
        "try:\n    main()\nexcept SystemExit:\n    pass\n"
        "dear = {'numba', 'numpy', 'matplotlib', 'pygame', 'pydantic', 'simpy', 'transitions', 'jinja2', 'ruamel'}\n"
        "print('LOADED', sorted(dear & set(sys.modules)))"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], cwd=ROOT, capture_output=True, text=True, check=True, timeout=60
    )
    assert done.stdout.splitlines()[-1] == "LOADED []"


def test_version_names_the_product(gudgeon: Callable[..., Any]) -> None:
    """The version is printed and nothing else happens."""
    said = gudgeon("--version")
    assert (said.code, said.out.split()[0]) == (0, "gudgeon")


@pytest.mark.parametrize("kind", ["site", "job", "solution", "drill", "competences"])
def test_schema_is_json(kind: str, gudgeon: Callable[..., Any]) -> None:
    """Each kind of file has a schema that an editor can read."""
    said = gudgeon("schema", kind)
    assert said.code == 0
    assert "format" in json.loads(said.out)["properties"]


def test_schema_of_nothing_names_the_kinds(gudgeon: Callable[..., Any]) -> None:
    """A kind that there isn't is a usage error that lists the kinds."""
    said = gudgeon("schema", "gate")
    assert said.code == 2
    assert "allowed: site, job, solution, drill, competences" in flat(said.err)


@pytest.mark.parametrize("duration", ["soon", "12parsec", "-3s", "0", "25h", "1e3"])
def test_a_duration_that_is_none_is_a_usage_error(duration: str, gudgeon: Callable[..., Any]) -> None:
    """What is no duration, or none that makes sense, names what is allowed."""
    said = gudgeon("run", SITE, f"--for={duration}")
    assert said.code == 2
    assert "allowed:" in flat(said.err)


@pytest.mark.parametrize(
    ("text", "microseconds"), [("120", 120e6), ("120s", 120e6), ("2min", 120e6), ("1.5 s", 1.5e6), ("1h", 3600e6)]
)
def test_durations_are_whole_microseconds(text: str, microseconds: float) -> None:
    """People write seconds, minutes or hours; the clock gets whole microseconds."""
    assert commands._microseconds(text) == microseconds


def test_a_site_that_is_not_there_is_one_sentence(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """An error is its sentence on standard error and code 2, never a traceback."""
    said = gudgeon("run", tmp_path / "absent.yaml")
    assert said.code == 2
    assert "absent.yaml" in said.err
    assert "Traceback" not in said.err
    assert said.out == ""


# commands that run a gate


def test_run_says_what_happened_and_writes_the_trace(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """The engineer reads the story of the run, both leaves' extremes, and finds the signals in a file."""
    trace = tmp_path / "out.csv"
    said = gudgeon("run", SITE, "--for", "90s", "--trace", trace)
    assert said.code == 0, said.err
    assert "at its open stop" in said.out
    assert "The controller says: closed" in said.out
    assert CAUTION in said.out
    assert trace.read_text(encoding="utf-8").startswith("time [s],active leaf angle [°]")


def test_a_trace_that_cannot_be_written_is_told_before_anything_runs(
    gudgeon: Callable[..., Any], tmp_path: Path
) -> None:
    """One sentence, code 2, and nothing of a result; a file that is there already keeps what it holds."""
    for place in (tmp_path / "absent" / "out.csv", tmp_path):
        said = gudgeon("run", SITE, "--for", "2s", "--trace", place)
        assert (said.code, said.out) == (2, "")
        assert said.err.startswith(f"{place}: can't be written (")
    mine = tmp_path / "mine.csv"
    mine.write_text("mine", encoding="utf-8")
    assert gudgeon("run", tmp_path / "absent.yaml", "--trace", mine).code == 2
    assert mine.read_text(encoding="utf-8") == "mine"


def test_a_gate_that_cannot_work_is_run_and_shows_why(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Weather, what the controller said, the current against its limit, and what stood against the drive."""
    file = tmp_path / "windy.yaml"
    text = SITE.read_text(encoding="utf-8").replace("wind_m_s: 0}", "wind_m_s: 38}")
    file.write_text(text.replace("solidity: 0.35", "solidity: 1"), encoding="utf-8")
    said = gudgeon("run", file, "--for", "30s")
    assert said.code == 0, said.err
    assert "Weather: 12 °C, wind 38.0 m/s from inside, hurricane." in said.out
    assert "No installer could get it ready. The controller said: at rest. learning ended early" in said.out
    assert "active leaf stood at -" in said.out
    assert "A that the board allows; about the hinge its drive gave at most" in said.out
    refused = gudgeon("force", file)
    assert refused.code == 2
    assert f"`gudgeon run {file}` shows why it can't." in refused.err


def test_the_keyboard_stops_a_command_in_one_sentence(
    gudgeon: Callable[..., Any], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Ctrl-C: code 130, as shells count it, and a word; no traceback."""

    def interrupted(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("sim.bench.trial.Trial.run", interrupted)
    said = gudgeon("run", SITE, "--for", "2s")
    assert (said.code, said.out, said.err) == (130, "", "stopped by the keyboard\n")


def test_run_as_json_is_json_and_nothing_else(gudgeon: Callable[..., Any]) -> None:
    """With --json standard output is one JSON value."""
    said = gudgeon("run", SITE, "--for", "10", "--json")
    result = json.loads(said.out)
    assert (said.code, result["ended"], result["reached_s"]) == (0, "finished", 10.0)


def test_a_controller_that_fails_is_told_and_ends_with_one(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A stranger's crash is the result of the run: told in words, code 1, no traceback of ours."""
    file = tmp_path / "mine.py"
    text = (ROOT / "tests/examples/own_controller.py").read_text(encoding="utf-8")
    file.write_text(text.replace("        pressed = [", "        pressed = [1 / 0] + ["), encoding="utf-8")
    said = gudgeon("run", SITE, "--for", "10s", "--controller", f"{file}:TwoButtons")
    assert said.code == 1
    assert "ZeroDivisionError: division by zero (mine.py, line" in said.out
    assert "Traceback" not in said.out + said.err


def test_a_kind_of_our_controller_begins_where_ours_would(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A class made from the reference controller finds its sheet and its travel, and moves the gate as ours does."""
    file = tmp_path / "kin.py"
    of = "from sim.controller.reference import ReferenceController\n\n\nclass Kin(ReferenceController):\n    pass\n"
    file.write_text(of, encoding="utf-8")
    said = gudgeon("run", SITE, "--for", "90s", "--controller", f"{file}:Kin", "--json")
    assert said.code == 0, said.err
    kin, ours = json.loads(said.out), json.loads(gudgeon("run", SITE, "--for", "90s", "--json").out)
    assert kin.pop("controller") == "Kin"
    assert ours.pop("controller") == "reference controller"
    assert (kin["begins"], kin["leaves"], kin["state"]) == (ours["begins"], ours["leaves"], "closed")


def test_what_a_stranger_starts_from_is_said(gudgeon: Callable[..., Any]) -> None:
    """It has its terminals and nothing else; whoever reads the result is told so."""
    own = ROOT / "tests/examples/own_controller.py"
    said = gudgeon("run", SITE, "--for", "2s", "--controller", f"{own}:TwoButtons")
    assert "The gate is found with no set-up: its controller has its terminals only" in said.out


def test_force_prints_a_table_and_where_its_limits_come_from(gudgeon: Callable[..., Any]) -> None:
    """Nine points on standard output with verdict, rules and origins; each point's progress on standard error."""
    said = gudgeon("force", SITE, "--leaf", "active")
    assert said.code == 0, said.err
    assert "9 points, 27 readings: 9 within limits" in said.out
    assert said.out.count("within limits") == 9 + 2
    assert "Residual limit 25 N: read in Powered Gate Myth Buster #2" in said.out
    assert "80 N (from memory, with middling confidence, of EN 16005" in said.out
    assert "[s]" in said.out
    assert CAUTION in said.out
    assert "with a real, calibrated instrument" in said.out
    told = [line for line in said.err.splitlines() if " of 9: active leaf, closing, gap " in line]
    assert [line.split(" ")[0] for line in told] == [str(n) for n in range(1, 10)]
    assert "matplotlib" not in said.err


def test_force_over_the_limit_ends_with_one(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A gate without soft edges fails at 50 mm: code 1, as JSON, judged by the residual limit that was asked for."""
    bare = tmp_path / "bare.yaml"
    text = "format: gudgeon-site/1\nname: Larch Bank\nguards: {active_edge: not fitted, inactive_edge: not fitted}\n"
    bare.write_text(text, encoding="utf-8")
    said = gudgeon("force", bare, "--leaf", "active", "--residual", "80", "--json")
    result = json.loads(said.out)
    assert said.code == 1
    assert result["outcome"] == "over the limit"
    assert result["residual"]["limit_n"] == 80.0
    assert {point["outcome"] for point in result["points"] if point["gap_mm"] == 50.0} == {"over the limit"}
    assert all(len(point["readings"]) == 3 for point in result["points"])
    assert result["files"] == []


def test_force_writes_its_report(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """With --out the page and one picture a point are there, and JSON names them."""
    out = tmp_path / "deep" / "out"
    said = gudgeon("force", SITE, "--leaf", "inactive", "--out", out, "--json")
    assert said.code == 0, said.err
    files = [Path(name) for name in json.loads(said.out)["files"]]
    assert [path.suffix for path in files] == [".html", *[".png"] * 9]
    assert all(path.is_file() and path.parent == out for path in files)
    assert "picture 9 of 9" in said.err


@pytest.mark.parametrize(
    ("arguments", "allowed"),
    [
        (["--leaf", "left"], "allowed: active, inactive, both"),
        (["--direction", "sideways"], "allowed: closing, opening, both"),
        (["--residual", "50"], "allowed: 25, 80"),
    ],
)
def test_force_names_what_is_allowed(arguments: list[str], allowed: str, gudgeon: Callable[..., Any]) -> None:
    """A leaf, direction or limit that there isn't is a usage error; nothing is measured."""
    said = gudgeon("force", SITE, *arguments)
    assert said.code == 2
    assert allowed in flat(said.err)
    assert said.out == ""


def test_force_is_refused_in_one_sentence(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """No such site, a faulty site, a place that can't be written: a sentence, code 2, no traceback."""
    faulty = tmp_path / "faulty.yaml"
    faulty.write_text(SITE.read_text(encoding="utf-8").replace("opening_width_m", "opening_with_m"), encoding="utf-8")
    (tmp_path / "file").write_text("", encoding="utf-8")
    for arguments, word in (
        ([tmp_path / "absent.yaml"], "absent.yaml"),
        ([faulty], "opening_width_m"),
        ([SITE, "--out", tmp_path / "file" / "under"], "no folder can be made here"),
    ):
        said = gudgeon("force", *arguments)
        assert (said.code, said.out) == (2, "")
        assert word in said.err
        assert "Traceback" not in said.err


def test_jobs_are_listed(gudgeon: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """The list has each job with title and grade, the first one first, and nothing done yet for a newcomer."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    said = gudgeon("jobs", "--json")
    cards = json.loads(said.out)
    assert [card["title"] for card in cards][:2] == ["Meet the gate", "First run"]
    assert all(card["best"] is None and not card["unfinished"] for card in cards)
    assert "First run" in gudgeon("jobs").out


def test_a_job_that_is_not_there_names_the_nearest(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """A slip in a job's name is answered with the jobs that there are, code 2, and no attempt is begun."""
    said = gudgeon("play", "frist_run", "--out", tmp_path / "out")
    assert said.code == 2
    assert "first_run" in said.err
    assert not (tmp_path / "out").exists()


def test_a_job_on_which_nothing_is_done_is_not_passed(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """Doing nothing fails: code 1, a debrief that says what was missed, and still a report."""
    idle = tmp_path / "idle.yaml"
    idle.write_text("format: gudgeon-solution/1\njob: first_run.yaml\nsteps:\n  - wait: {seconds: 5}\n", "utf-8")
    said = gudgeon("play", "First run", "--solution", idle, "--out", tmp_path / "out", "--json")
    assert said.code == 1, said.err
    result = json.loads(said.out)
    assert result["result"] != "competent"
    assert any(finding["outcome"] == "failed" for finding in result["findings"])
    assert (tmp_path / "out/debrief.html").is_file()


def test_a_drill_is_graded_headless(gudgeon: Callable[..., Any], tmp_path: Path) -> None:
    """The instructor gets the graded result as JSON, with what the instructor's script did."""
    said = gudgeon("drill", ROOT / "scenarios/drills/beam_goes_dark.yaml", "--out", tmp_path / "out", "--json")
    result = json.loads(said.out)
    assert said.code == 0
    assert result["passed"]
    assert any(done["kind"] == "inject" for done in result["log"])


def test_a_drill_for_a_person_needs_a_display(gudgeon: Callable[..., Any]) -> None:
    """Without a display a drill for a person is refused in one sentence that says what else can be done."""
    said = gudgeon("drill", ROOT / "scenarios/drills/beam_goes_dark.yaml", "--person")
    assert said.code == 2
    assert "There is no display here, and 'The beam goes dark' is for a person" in said.err
    assert "name a --solution instead" in said.err


def test_a_display_that_does_not_answer_is_told() -> None:
    """A display that is named but not there is a sentence as well, not a traceback."""
    drill = ROOT / "scenarios/drills/beam_goes_dark.yaml"
    arguments = ["gudgeon", "drill", str(drill), "--person"]
    program = f"import sys; sys.argv = {arguments!r}; from trainer.cli import main; main()"
    done = subprocess.run(
        [sys.executable, "-c", program],
        cwd=ROOT,
        env={**os.environ, "SDL_VIDEODRIVER": "x11", "DISPLAY": ":9876"},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.returncode == 2
    assert "The display does not answer" in done.stderr
    assert "Traceback" not in done.stderr


@pytest.mark.slow
def test_without_a_display_the_main_job_is_carried_out(
    gudgeon: Callable[..., Any], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """The README's first command on a machine without a display: one sentence, full marks, report and pictures."""
    monkeypatch.chdir(tmp_path)
    said = gudgeon()
    assert said.code == 0, said.out
    assert said.out.splitlines()[0] == "There is no display here, so the job is carried out without a window."
    assert "First run, seed 0: competent, 100 of 100" in said.out
    assert CAUTION in said.out
    out = tmp_path / "gudgeon-out"
    assert "gudgeon-out" in said.out
    assert "certifies nothing" in (out / "debrief.html").read_text(encoding="utf-8")
    assert sorted(path.suffix for path in out.glob("*.*g")) == [".png", ".png", ".svg", ".svg"]
