"""The front page keeps its promises: two commands that can be typed, files that exist, the caution."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
README = ROOT / "README.md"

PAGES = ["README.md", "DEVELOPERS.md", "sim/README.md", "scenarios/README.md"]


def blocks() -> list[str]:
    """The fenced sh blocks of the front page, in order."""
    return re.findall(r"^```sh\n(.*?)^```$", README.read_text(encoding="utf-8"), flags=re.M | re.S)


def test_the_first_two_blocks_are_one_command_each() -> None:
    """A newcomer types one line to start the main job and one line to pass the tests."""
    first, second = blocks()[:2]
    assert first.splitlines() == ["python3 -m venv .venv && .venv/bin/pip install -q -e . && .venv/bin/gudgeon"]
    assert second.splitlines() == [
        "python3 -m venv .venv && .venv/bin/pip install -q -e '.[dev]' && .venv/bin/python -m pytest"
    ]


def test_the_caution_stands_on_the_front_page() -> None:
    """The front page says what this is not, before it says how to start it."""
    text = " ".join(README.read_text(encoding="utf-8").split())
    caution = text.index("It certifies nothing")
    assert caution < text.index("```sh")
    for word in ("crush and kill", "isolate both sources", "prove it dead", "standard in force", "local codes"):
        assert word in text.replace(" > ", " ")


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere(page: str) -> None:
    """Every relative link of a page names a file that exists."""
    folder = (ROOT / page).parent
    links = re.findall(r"\]\((?!https?:|#)([^)#]+)", (ROOT / page).read_text(encoding="utf-8"))
    assert [link for link in links if not (folder / link).exists()] == []


def test_commands_name_files_that_exist() -> None:
    """Every file that a command of the front page reads is in the repository."""
    words = [word for block in blocks()[2:] for word in shlex.split(block)]
    named = [word.split(":")[0] for word in words if word.startswith(("scenarios/", "tests/"))]
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []
