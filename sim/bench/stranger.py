"""A trial with somebody else's controller: the whole world runs in a process of its own, under a supervisor.

The process is ended when it has worked for a stated time without progress of simulated time. Whatever it does
(raises, hangs, takes its process down) comes back as a result in words. What it prints goes to standard error.
This contains accidents. It is not security: the code runs with all the rights of whoever started it.
"""

from __future__ import annotations

import json
import multiprocessing
import os
import signal
from collections.abc import Callable
from dataclasses import dataclass
from multiprocessing.connection import Connection
from multiprocessing.context import SpawnProcess
from pathlib import Path
from typing import Any, Final

from sim.bench import foreign
from sim.bench.branching import LOOKS_S
from sim.bench.patience import Patience
from sim.bench.trial import Ended, Order, Result, Trial
from sim.errors import ControllerError
from sim.kernel import compiler
from sim.mechanics.hanging import weather_words
from sim.site import dump_site, restore_site, site_digest
from sim.traces.export import write_csv
from sim.units import Us, clock_text, to_seconds

PATIENCE_S: Final = 10.0
"""Processor time without progress after which a stranger is ended [s]."""

START_PATIENCE_S: Final = 180.0
"""Processor time for the process to start and the kernel to be compiled, before any foreign line has run [s]."""

MOST_BYTES: Final = 64 * 1024 * 1024
"""A message longer than this is refused."""


@dataclass(frozen=True, slots=True)
class Job:
    """What crosses to the process, as JSON."""

    order: Order
    source: foreign.Source
    trace: Path | None = None

    def as_text(self) -> str:
        """All of it as JSON text."""
        return json.dumps(
            {
                "site": dump_site(self.order.site),
                "duration": self.order.duration,
                "seed": self.order.seed,
                "file": str(self.source.file),
                "name": self.source.name,
                "trace": str(self.trace) if self.trace else "",
            }
        )

    @classmethod
    def from_text(cls, text: str) -> Job:
        """The job that `as_text` wrote."""
        data = json.loads(text)
        order = Order(restore_site(data["site"]), Us(data["duration"]), data["seed"])
        source = foreign.Source(Path(data["file"]), data["name"])
        return cls(order, source, Path(data["trace"]) if data["trace"] else None)


def run_apart(job: Job, *, patience_s: float = PATIENCE_S, told: Callable[[Us], None] | None = None) -> Result:
    """Run the trial in a process of its own and return what came of it, whatever that was.

    `patience_s` is the processor time [s] for the next sign of progress; `told` hears the simulated time [µs].
    """
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=_work, args=(theirs, job.as_text()), name="gudgeon stranger", daemon=True)
    process.start()
    theirs.close()
    try:
        return _Supervisor(process, ours, job, patience_s, told).result()
    finally:
        process.kill()
        process.join()
        ours.close()


@dataclass(slots=True)
class _Supervisor:
    """Listens to one stranger's process."""

    process: SpawnProcess
    pipe: Connection
    job: Job
    patience_s: float
    told: Callable[[Us], None] | None
    reached: int = 0
    """Simulated time that it said it has reached [µs]."""

    def result(self) -> Result:
        """What came of it; waits until it has ended or has not answered for too long."""
        assert self.process.pid is not None
        patience = Patience(self.process.pid, START_PATIENCE_S)
        while True:
            if not self.pipe.poll(LOOKS_S):
                if why := patience.over():
                    return self._without_world("no answer", self._silence(why))
                continue
            try:
                message = json.loads(self.pipe.recv_bytes(MOST_BYTES))
            except EOFError:
                return self._without_world("process ended", self._death())
            if "result" in message:
                return Result.from_base_types(message["result"])
            if "failed" in message:
                return self._without_world("controller failed", str(message["failed"]))
            patience.heard(self.patience_s)
            self.reached = int(message["reached"])
            if self.told is not None:
                self.told(Us(self.reached))

    def _silence(self, why: str) -> str:
        where = f"after {clock_text(self.reached)} of simulated time" if self.reached else "before the gate had moved"
        return f"{self.job.source.name} gave {why}, {where}; its process was ended"

    def _death(self) -> str:
        self.process.join(5.0)
        code = self.process.exitcode
        if code is not None and code < 0:
            how = f"was ended by the signal {signal.Signals(-code).name}"
        else:
            how = f"left by itself with the code {code}"
        return f"the process of {self.job.source.name} {how} after {clock_text(self.reached)} of simulated time"

    def _without_world(self, ended: Ended, said: str) -> Result:
        order = self.job.order
        return Result(
            site=order.site.name,
            site_digest=site_digest(order.site),
            controller=self.job.source.name,
            seed=order.seed,
            ended=ended,
            said=said,
            weather=weather_words(order.site.weather, len(order.site.leaves.fitted)),
            begins="",
            unready="",
            reached_s=to_seconds(self.reached),
            scans=0,
            happened=(),
            leaves=(),
            state="",
            message="",
            digest="",
        )


def _work(pipe: Connection, text: str) -> None:
    """The stranger's process: everything that it prints goes to standard error, what it says goes to the pipe."""
    os.dup2(2, 1)
    job = Job.from_text(text)

    def say(**message: Any) -> None:
        pipe.send_bytes(json.dumps(message).encode())

    compiler.load()  # before any foreign line runs, so that its patience isn't spent on ours
    say(reached=0)
    try:
        controller = foreign.load(job.source)
        trial = Trial(job.order, controller)
    except ControllerError as error:
        say(failed=str(error))
        return
    result = trial.run(lambda reached: say(reached=reached))
    if job.trace is not None:
        write_csv(trial.world, job.trace)
    say(result=result.as_base_types())
