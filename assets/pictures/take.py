"""Takes the picture of the front page anew, from a real session: `python assets/pictures/take.py`.

*First run* is played from its own solution up to the test body in the beam; needs no display.
"""

from __future__ import annotations

import os
import tempfile
from itertools import islice
from pathlib import Path

from PIL import Image

from sim.kernel import compiler
from sim.units import SECOND, Us
from sim.world.actions import Action
from trainer.grading.judge import Grader
from trainer.job import load_named_job, reference_solution, resolve
from trainer.session.desk import Desk
from trainer.session.play import Hands
from trainer.session.session import Session

HERE = Path(__file__).resolve().parent

SHOWN_AFTER = Us(SECOND)
"""So long after the body was put down the gate is well on its way back."""

COLOURS = 256
"""Enough for a drawing: the file is half of what it would be."""


def in_the_beam(desk: Desk) -> Session:
    """A session at the moment shown."""
    job = resolve(load_named_job("First run"), 0)
    script = reference_solution(job)
    assert script is not None
    bodies = [n for n, step in enumerate(script.steps) if _places_test_body(step.act)]
    session = desk.begin(job, job.job.path.stem)
    Hands(session).play(islice(script.steps, bodies[0] + 1))
    session.run_for(SHOWN_AFTER)
    session.pause(True)
    return session


def _places_test_body(act: object) -> bool:
    return isinstance(act, Action) and act.kind == "place body" and act["body"] == "test body"


def take(path: Path) -> None:
    """Write the picture; the window needs no display, which has to be said before its library is loaded."""
    os.environ["SDL_VIDEODRIVER"] = os.environ["SDL_AUDIODRIVER"] = "dummy"
    from trainer.window.app import App

    compiler.load()
    with tempfile.TemporaryDirectory() as folder:
        desk = Desk(judge=Grader(), folder=Path(folder))
        session = in_the_beam(desk)
        app = App(desk)  # type: ignore[arg-type]
        app.open(session)  # type: ignore[arg-type]
        assert app.work is not None
        app.work.open_page("Why still")
        for _ in range(3):
            app.frame(0.0)
        app.root.toasts.clear()
        app.frame(0.0)
        app.picture(path)
        app.leave_session()
    Image.open(path).quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(
        path, optimize=True
    )


if __name__ == "__main__":
    take(HERE / "yard.png")
