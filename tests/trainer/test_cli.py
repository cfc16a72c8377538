"""The command line parses, calls one room, prints, and ends with an exit code; errors are sentences."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import pytest

from trainer import CAUTION, cli
from trainer.cli import commands

ROOT = Path(__file__).resolve().parents[2]
SITE = ROOT / "scenarios/sites/mill_lane.yaml"


@dataclass(frozen=True)
class Said:
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str


@pytest.fixture
def gudgeon(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run the installed command's own entry in this process, without a display and as wide as a page."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("COLUMNS", "200")
    monkeypatch.setenv("NO_COLOR", "1")

    def run(*arguments: object) -> Said:
        monkeypatch.setattr(sys, "argv", ["gudgeon", *(str(argument) for argument in arguments)])
        code = 0
        try:
            cli.main()
        except SystemExit as ended:
            code = ended.code if isinstance(ended.code, int) else 1
        printed = capfd.readouterr()
        return Said(code, printed.out, printed.err)

    return run


def flat(text: str) -> str:
    """Text without the frames and line breaks of a help page."""
    return " ".join(text.replace("│", " ").split())


def test_help_holds_the_caution_and_every_command(gudgeon: Callable[..., Said]) -> None:
    """Who asks for help reads what this is not, and what it can do."""
    said = gudgeon("--help")
    assert said.code == 0
    assert CAUTION in flat(said.out)
    for command in ("start", "jobs", "play", "drill", "run", "check", "schema"):
        assert f" {command} " in said.out


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


def test_version_names_the_product(gudgeon: Callable[..., Said]) -> None:
    """The version is printed and nothing else happens."""
    said = gudgeon("--version")
    assert (said.code, said.out.split()[0]) == (0, "gudgeon")


@pytest.mark.parametrize("kind", ["site", "job", "solution", "drill"])
def test_schema_is_json(kind: str, gudgeon: Callable[..., Said]) -> None:
    """Each kind of file has a schema that an editor can read."""
    said = gudgeon("schema", kind)
    assert said.code == 0
    assert "format" in json.loads(said.out)["properties"]


def test_schema_of_nothing_names_the_kinds(gudgeon: Callable[..., Said]) -> None:
    """A kind that there isn't is a usage error that lists the kinds."""
    said = gudgeon("schema", "gate")
    assert said.code == 2
    assert "allowed: site, job, solution, drill" in flat(said.err)


def test_check_accepts_everything_that_is_shipped(gudgeon: Callable[..., Said]) -> None:
    """Every scenario in the repository reads without a complaint."""
    said = gudgeon("check", ROOT / "scenarios")
    assert said.code == 0, said.out
    kinds = [line.rsplit(" ", 1)[-1] for line in said.out.splitlines()]
    assert set(kinds) == {"site", "job", "solution", "drill"}


def test_check_says_what_is_wrong_where(gudgeon: Callable[..., Said], tmp_path: Path) -> None:
    """A faulty file is told with file, line, key and the nearest right key; the others are still read."""
    text = SITE.read_text(encoding="utf-8")
    (tmp_path / "good.yaml").write_text(text, encoding="utf-8")
    (tmp_path / "bad.yaml").write_text(text.replace("opening_width_m", "opening_with_m"), encoding="utf-8")
    (tmp_path / "other.yaml").write_text("format: gudgeon-house/1\n", encoding="utf-8")
    said = gudgeon("check", tmp_path)
    assert said.code == 1
    assert "good.yaml: a good site" in said.out
    assert "bad.yaml:6" in said.out
    assert "opening_width_m" in said.out
    assert "read 'gudgeon-house/1'; allowed: gudgeon-site/1, gudgeon-job/1" in said.out


def test_check_of_nothing_is_refused(gudgeon: Callable[..., Said], tmp_path: Path) -> None:
    """A path that isn't there, and a folder without files, are one sentence and code 2."""
    assert gudgeon("check", tmp_path / "absent").code == 2
    said = gudgeon("check", tmp_path)
    assert said.code == 2
    assert "no file ending in .yaml" in said.err


@pytest.mark.parametrize("duration", ["soon", "12parsec", "-3s", "0", "25h", "1e3"])
def test_a_duration_that_is_none_is_a_usage_error(duration: str, gudgeon: Callable[..., Said]) -> None:
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


def test_a_site_that_is_not_there_is_one_sentence(gudgeon: Callable[..., Said], tmp_path: Path) -> None:
    """An error is its sentence on standard error and code 2, never a traceback."""
    said = gudgeon("run", tmp_path / "absent.yaml")
    assert said.code == 2
    assert "absent.yaml" in said.err
    assert "Traceback" not in said.err
    assert said.out == ""
