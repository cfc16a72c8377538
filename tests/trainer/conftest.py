"""The command line, run in the tests' own process."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import NamedTuple

import pytest

from trainer import cli


class Said(NamedTuple):
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str


@pytest.fixture
def gudgeon(monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]) -> Callable[..., Said]:
    """Run the installed command's own entry in this process, without a display and as wide as a page."""
    for name in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("COLUMNS", "400")
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
