"""The bench page: every line that it offers is one that the console takes."""

from __future__ import annotations

import shlex
from pathlib import Path
from typing import Any

import pytest
import typer

from trainer.cli.commands import app
from trainer.window.screens.benchwork import COMMANDS

ROOT = Path(__file__).resolve().parents[4]


@pytest.mark.parametrize("line", [line for line, _words in COMMANDS])
def test_each_line_is_a_command_with_its_options_and_its_files(line) -> None:
    """Read by the command line itself, without carrying anything out."""
    program, name, *rest = shlex.split(line)
    group: Any = typer.main.get_command(app)
    assert program == "gudgeon"
    command = group.commands[name]
    context = command.make_context(name, list(rest), resilient_parsing=False)
    given = [value for value in context.params.values() if value not in (None, False, [], ())]
    assert len(given) >= sum(word.startswith("--") for word in rest)
    for word in rest:
        if word.startswith("scenarios"):
            assert (ROOT / word).exists()
