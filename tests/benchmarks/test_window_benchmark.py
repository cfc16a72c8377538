"""How long the window takes: the first frame of a new process, and frames with everything live. Reported only."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

FIRST_FRAME = """
import sys, time
begin = float(sys.argv[1])
from trainer.window.app import App
from trainer.window.doors import JobCard

class Desk:
    def jobs(self):
        return [JobCard(f"job-{n}", f"Job {n}", "learner", 10, about="About it.") for n in range(12)]

app = App(Desk())
app.frame(0.0)
print(time.time() - begin, time.process_time())
"""

FIRST_BAR_S, FRAME_BAR_MS = 0.300, 12.0
"""What the design asks of a machine that has nothing else to do; printed beside what was measured."""


@pytest.mark.benchmark
def test_first_frame_of_a_new_process() -> None:
    """From the start of the process, imports and all, to the first frame; wall time and processor time."""
    environment = {**os.environ, "SDL_VIDEODRIVER": "dummy", "SDL_AUDIODRIVER": "dummy"}
    wall, processor = [], []
    for _ in range(7):
        done = subprocess.run(
            [sys.executable, "-c", FIRST_FRAME, repr(time.time())],
            capture_output=True,
            text=True,
            check=True,
            cwd=ROOT,
            env=environment,
        )
        first, used = done.stdout.split()[-2:]
        wall.append(float(first))
        processor.append(float(used))
    print(
        f"\nfirst frame: best {min(wall) * 1000:.0f}, median {statistics.median(wall) * 1000:.0f} ms of wall time, "
        f"{statistics.median(processor) * 1000:.0f} ms of processor time (asked for: {FIRST_BAR_S * 1000:.0f} ms)"
    )
    assert min(wall) > 0


@pytest.mark.benchmark
@pytest.mark.parametrize("page", ["Brief", "Sheet", "Cabinet", "Instruments", "Why still"])
@pytest.mark.parametrize("size", [(1280, 800), (1920, 1080)])
def test_frames_with_everything_live(page: str, size: tuple[int, int]) -> None:
    """A moving gate, five recorded minutes, one page open: half of the frames and the slowest hundredth."""
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    os.environ["SDL_AUDIODRIVER"] = "dummy"
    from trainer.window.app import App
    from trainer.window.canned import CannedDesk

    app = App(CannedDesk(), size)
    session = app.desk.start("first-run", "practice", 0)
    app.open(session)
    session.do("survey hazard", {"hazard": "gap at the hinge", "protection": "nothing"})
    session.do("set", {"setting": "inner beam", "value": "not fitted"})
    session.let_pass(300.0)
    app.work.open_page(page)
    for _ in range(20):
        app.frame(1 / 60)
    took = []
    for n in range(600):
        if n % 300 == 0:
            session.drive(*((95.0, 95.0) if n == 0 else (0.0, 0.0)))
        begin = time.process_time()
        app.frame(1 / 60)
        took.append((time.process_time() - begin) * 1000)
    took.sort()
    print(
        f"\nframe, {page}, {size[0]}×{size[1]}: half {took[300]:.1f} ms, slowest hundredth {took[594]:.1f} ms "
        f"of processor time (asked for: {FRAME_BAR_MS:.0f} ms)"
    )
    assert took[0] > 0


@pytest.mark.benchmark
def test_frames_while_the_wiring_drawing_is_moved() -> None:
    """The largest drawing of all sites, moved in every frame, so that it is painted anew each time."""
    os.environ["SDL_VIDEODRIVER"] = "dummy"
    os.environ["SDL_AUDIODRIVER"] = "dummy"
    from sim.site import load_site
    from sim.world.world import World
    from trainer.session.wiring import wiring_view
    from trainer.window.app import App
    from trainer.window.canned import CannedDesk

    wiring = wiring_view(World(load_site(ROOT / "scenarios" / "sites" / "reference_bench.yaml"), seed=0))
    app = App(CannedDesk(), (1280, 800))
    session = app.desk.start("first-run", "practice", 0)
    session.wiring = lambda: wiring  # type: ignore[method-assign]
    app.open(session)
    app.work.open_page("Cabinet")
    for _ in range(20):
        app.frame(1 / 60)
    eye = app.work.wiring.drawing.eye
    took = []
    for n in range(300):
        eye.move(0.0, 7.0 if n % 200 < 100 else -7.0)
        begin = time.process_time()
        app.frame(1 / 60)
        took.append((time.process_time() - begin) * 1000)
    took.sort()
    count = sum(len(part.pins) for part in wiring.parts)
    print(
        f"\nframe while a drawing of {count} terminals and {len(wiring.cores)} cores is moved, 1280×800: "
        f"half {took[150]:.1f} ms, slowest hundredth {took[297]:.1f} ms of processor time"
    )
    assert took[0] > 0
