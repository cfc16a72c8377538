"""A case is made shorter as long as it still breaks the same, and no longer than it is allowed to try."""

from __future__ import annotations

from sim.bench.proof.case import Case, Step
from sim.bench.proof.shorter import shorter

LONG = Case(
    tuple(Step(act, (), "it opens" if act == "b" else "", 5.0) for act in "abcdefgh"),
    (("auto-close", "on"),),
    (("a fault", 1.0),),
)


def test_only_what_is_needed_stays() -> None:
    def breaks(case: Case) -> bool:
        acts = [step.act for step in case.steps]
        return "b" in acts and "g" in acts and any(s.act == "b" and s.seconds >= 1.0 for s in case.steps)

    short, tried = shorter(LONG, breaks, 500)
    assert [(step.act, step.seconds, step.wait) for step in short.steps] == [("b", 1.0, ""), ("g", 0.0, "")]
    assert not short.sheet
    assert not short.faults
    assert tried < 500


def test_it_stops_when_it_has_tried_enough() -> None:
    short, tried = shorter(LONG, lambda case: len(case.steps) > 2, 3)
    assert tried == 3
    assert len(short.steps) < len(LONG.steps)


def test_what_can_not_be_shortened_stays_as_it_is() -> None:
    short, _ = shorter(LONG, lambda case: False, 500)
    assert short == LONG
