"""Hands that play a script: where they stop, and what is said then."""

from __future__ import annotations

import pytest

from sim.units import Us
from trainer.grading.judge import Grader
from trainer.job import load_named_job, resolve
from trainer.job.script import FullyIs, Step, When
from trainer.session.desk import Desk
from trainer.session.play import Hands, ScriptFailed


@pytest.mark.parametrize("mains", [True, False])
def test_who_waits_in_vain_is_told_what_the_controller_said_last(tmp_path, mains: bool) -> None:
    """What it refused and why: whoever writes a script would else look for it. A dark board says nothing."""
    session = Desk(Grader(), tmp_path).begin(resolve(load_named_job("it_will_not_close"), 0), "job")
    try:
        if not mains:
            session.do("isolate", {})
            session.do("remove battery link", {})
            session.run_for(Us(60_000_000))
        session.do("press", {"control": "close button"})
        with pytest.raises(ScriptFailed) as caught:
            Hands(session).play([Step(When(FullyIs("closed"), Us(5_000_000)), None, "job.yaml:7:5")])
        log = session.world.controller.panel().log
    finally:
        session.close()
    said, _, last = str(caught.value).partition("; the controller's log ends with: ")
    assert said.startswith("job.yaml:7:5: what this step waits for did not come by 0:")
    assert last == (log[-1][1] if mains else "")
    assert log
