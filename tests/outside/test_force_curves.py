"""Force-time curves against figures worked out elsewhere: facts 9.1 (golden curves), C14, C18, C19."""

from __future__ import annotations

import pytest

from sim.instruments.force_gauge import Reading, compression_mm, evaluate, judge, mean_verdict
from sim.instruments.rule_sets import CRUSH, FREE_IMPACT, RESIDUAL_80, RuleSet

CRUSH_80 = CRUSH.with_residual(RESIDUAL_80)

# facts 9.1: points (s, N); Fd, Td, Fs, Tt, F5; crush zone 25 N, crush zone 80 N, free impact 25 N
GOLDEN = {
    "G1": ([(0, 0), (0.02, 380), (0.1, 140), (0.6, 140), (0.7, 20), (6, 20)],
           (380, 0.0888, 20.0, 0.6945, 20.0), "PASS PASS PASS"),
    "G2": ([(0, 0), (0.02, 420), (0.1, 140), (0.6, 140), (0.7, 20), (6, 20)],
           (420, 0.0900, 20.0, 0.6946, 20.0), "FAIL FAIL PASS"),
    "G3": ([(0, 0), (0.02, 390), (0.05, 200), (0.8, 200), (0.9, 20), (6, 20)],
           (390, 0.8201, 200.0, 0.8959, 20.0), "FAIL FAIL FAIL"),
    "G4": ([(0, 0), (0.02, 300), (0.2, 120), (5.5, 60), (6, 60)],
           (300, 0.1600, 113.8, 5.9983, 65.7), "FAIL PASS FAIL"),
    "G5": ([(0, 0), (0.03, 1300), (0.15, 140), (0.5, 0), (6, 0)],
           (1300, 0.1455, 0.0, 0.4369, 0.0), "FAIL FAIL PASS"),
}  # fmt: skip


def reading_of(curve: str, rules: RuleSet) -> Reading:
    """A golden curve evaluated."""
    times, forces = zip(*GOLDEN[curve][0], strict=True)
    return evaluate(times, forces, rules)


def verdict_word(reading: Reading, rules: RuleSet) -> str:
    """PASS or FAIL, as the fact sheet says it: a marginal pass is a pass, so no band."""
    outcome = judge(reading, rules, band=0.0).outcome
    assert outcome in ("within limits", "over the limit")
    return "PASS" if outcome == "within limits" else "FAIL"


@pytest.mark.parametrize("curve", GOLDEN)
def test_golden_figures(curve: str) -> None:
    """Fd, Td, Fs, Tt and F5 of each curve, within 0.5 N and 1 ms (facts 9.1)."""
    peak, above, static, residual, late = GOLDEN[curve][1]
    reading = reading_of(curve, CRUSH)
    assert reading.peak_n == pytest.approx(peak, abs=0.5)
    assert reading.above_static_s == pytest.approx(above, abs=1e-3)
    assert reading.static_n == pytest.approx(static, abs=0.5)
    assert reading.above_residual_s == pytest.approx(residual, abs=1e-3)
    assert reading.late_n == pytest.approx(late, abs=0.5)


@pytest.mark.parametrize("curve", GOLDEN)
def test_golden_verdicts(curve: str) -> None:
    """The verdict of each curve in the crush zone with 25 N and with 80 N, and as a free impact (facts 9.1)."""
    words = [verdict_word(reading_of(curve, rules), rules) for rules in (CRUSH, CRUSH_80, FREE_IMPACT)]
    assert " ".join(words) == GOLDEN[curve][2]


def test_c14_the_gauge_gives_way() -> None:
    """400 N and 1400 N press a 500 N/mm gauge by 0.80 and 2.80 mm (facts C14)."""
    assert compression_mm(400) == pytest.approx(0.80, rel=0.001)
    assert compression_mm(1400) == pytest.approx(2.80, rel=0.001)


def test_c18_the_mean_is_judged() -> None:
    """395, 402 and 400 N have the mean 399 N, which passes although one reading fails (facts C18)."""
    readings = [Reading(peak, 0.1, 20.0, 0.7, 20.0) for peak in (395.0, 402.0, 400.0)]
    assert verdict_word(readings[1], CRUSH) == "FAIL"
    verdict = mean_verdict(readings, CRUSH, band=0.0)
    assert verdict.outcome == "within limits"
    assert verdict.lines[0].value == 399.0


@pytest.mark.parametrize(
    ("changed", "word"),
    [
        ({}, "PASS"),
        ({"peak_n": 401.0}, "FAIL"),
        ({"above_static_s": 0.76}, "FAIL"),
        ({"above_residual_s": 5.1}, "FAIL"),
    ],
)
def test_c19_each_limit_fails_alone(changed: dict[str, float], word: str) -> None:
    """Fd 380, 140 N after 0.75 s, 20 N after 5 s passes; Fd 401, Td 0.76 s, Tt 5.1 s each fail alone (facts C19)."""
    sample = {"peak_n": 380.0, "above_static_s": 0.5, "static_n": 140.0, "above_residual_s": 4.0, "late_n": 20.0}
    assert verdict_word(Reading(**{**sample, **changed}), CRUSH) == word
