"""The force gauge's own rules: exact crossings, the marginal band, short records, the amplifier."""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sim.instruments.force_gauge import (
    AMPLIFIER_S,
    SPEC,
    GaugeSpec,
    Reading,
    amplified,
    as_kept,
    evaluate,
    judge,
    mean_verdict,
    shown_n,
)
from sim.instruments.rule_sets import (
    CRUSH,
    EN,
    FREE_IMPACT,
    GAUGE_ACCURACY,
    RESIDUAL_25,
    RESIDUAL_80,
    RESIDUALS,
    RULE_SETS,
    Figure,
    rules_at,
)

CURVES = st.lists(
    st.tuples(st.floats(1e-3, 2.0), st.floats(0.0, 2000.0, allow_subnormal=False)), min_size=1, max_size=12
)
"""(time since the point before [s], force [N])."""


def built(pieces: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    """A curve from its pieces, from 0 N at 0 s."""
    times, forces = [0.0], [0.0]
    for dt, force in pieces:
        times.append(times[-1] + dt)
        forces.append(force)
    return times, forces


def good(**changed: float) -> Reading:
    """A reading that meets every limit with room."""
    return Reading(**{  # type: ignore[arg-type]
        "peak_n": 200.0, "above_static_s": 0.1, "static_n": 60.0, "above_residual_s": 1.0, "late_n": 0.0, **changed
    })  # fmt: skip


@given(pieces=CURVES)
def test_figures_agree_with_a_fine_sampling(pieces: list[tuple[float, float]]) -> None:
    """The exact figures are what dense sampling of the same line comes near to."""
    times, forces = built(pieces)
    reading = evaluate(times, forces, CRUSH)
    fine = np.linspace(0.0, times[-1], 40_001)
    line = np.interp(fine, times, forces)
    dt = fine[1]
    crossings = 2 * len(times) * dt
    assert reading.above_static_s == pytest.approx((line > 150.0).sum() * dt, abs=crossings)
    assert reading.above_residual_s == pytest.approx((line > 25.0).sum() * dt, abs=crossings)
    slope = max(abs(np.diff(forces) / np.diff(times)))
    assert reading.peak_n == pytest.approx(line[fine <= 0.75].max(), abs=2 * slope * dt + 1e-6)
    later = line[fine >= 0.75]
    assert reading.static_n == pytest.approx(later.max() if len(later) else 0.0, abs=2 * slope * dt + 1e-6)


@given(pieces=CURVES, split=st.floats(0.01, 0.99))
def test_a_point_on_the_line_changes_nothing(pieces: list[tuple[float, float]], split: float) -> None:
    """Adding samples that lie on the line leaves every figure as it was."""
    times, forces = built(pieces)
    extra = sorted({*times, *(a + split * (b - a) for a, b in pairwise(times))})
    more = evaluate(extra, np.interp(extra, times, forces), CRUSH)
    once = evaluate(times, forces, CRUSH)
    for name in ("peak_n", "above_static_s", "static_n", "above_residual_s", "late_n"):
        assert getattr(more, name) == pytest.approx(getattr(once, name), abs=1e-6), name


def test_the_marginal_band_is_the_callers() -> None:
    """A pass near a limit is marginal by as much as the caller says, and a value on the limit still passes."""
    near = good(peak_n=390.0)
    assert judge(near, CRUSH, band=0.0).outcome == "within limits"
    assert judge(near, CRUSH, band=0.05).outcome == "marginal"
    assert judge(good(peak_n=380.0), CRUSH, band=0.05).outcome == "within limits"
    assert judge(good(peak_n=400.0), CRUSH, band=0.0).outcome == "within limits"
    assert judge(good(peak_n=math.nextafter(400.0, 500.0)), CRUSH, band=0.0).outcome == "over the limit"
    assert str(judge(near, CRUSH)) == "marginal (EN, crush zone): peak 390 N, at most 400 N"


@pytest.mark.parametrize(
    ("figure", "over"),
    [("peak_n", 401), ("above_static_s", 0.76), ("static_n", 151), ("above_residual_s", 5.1), ("late_n", 26)],
)
def test_every_figure_can_fail_alone(figure: str, over: float) -> None:
    """Each of the five figures alone makes a reading fail, and the verdict names it."""
    verdict = judge(good(**{figure: over}), CRUSH)
    assert verdict.outcome == "over the limit"
    assert [line.value for line in verdict.lines if line.outcome == "over the limit"] == [over]


def test_one_reading_is_not_a_verdict() -> None:
    """Fewer readings than the rules ask for are not judged."""
    assert str(mean_verdict([good(), good()], CRUSH)) == (
        "not judged (EN, crush zone): 2 of 3 readings; one reading is not a verdict"
    )
    assert mean_verdict([good()] * 3, CRUSH).outcome == "within limits"


def test_a_short_record_is_not_judged() -> None:
    """Who reads the gauge before 5 s have passed gets no verdict, and neither does a mean with such a reading."""
    short = evaluate([0.0, 0.02, 0.2], [0.0, 300.0, 0.0], CRUSH)
    assert not short.is_whole
    assert judge(short, CRUSH).outcome == "not judged"
    assert "ends before 5 s" in str(mean_verdict([short, good(), good()], CRUSH))


def test_beyond_the_range_is_told() -> None:
    """A push beyond 2000 N is marked: the true peak was higher."""
    assert evaluate([0.0, 0.02, 6.0], [0.0, 2001.0, 0.0], CRUSH).is_over_range
    assert not evaluate([0.0, 0.02, 6.0], [0.0, 2000.0, 0.0], CRUSH).is_over_range
    assert [shown_n(24.9), shown_n(25.2), shown_n(399.6)] == [0.0, 25.0, 400.0]


@pytest.mark.parametrize(
    ("times", "forces"),
    [
        ([0.0], [1.0]),
        ([0.0, 1.0], [1.0]),
        ([0.0, 0.0], [0.0, 1.0]),
        ([0.1, 0.2], [0.0, 1.0]),
        ([0.0, 1.0], [0.0, math.nan]),
    ],
)
def test_what_is_no_curve_is_refused(times: list[float], forces: list[float]) -> None:
    """Too short, unequal, not rising, not from the contact, not finite: ValueError."""
    with pytest.raises(ValueError, match=r"force-time curve|times"):
        evaluate(times, forces, CRUSH)


def test_limits_print_themselves_with_their_origin() -> None:
    """A report shows limits as text from the data; every figure knows where it comes from."""
    assert CRUSH.limits() == (
        "peak at most 400 N",
        "above 150 N at most 0.75 s",
        "at most 150 N after 0.75 s",
        "at most 25 N after 5 s",
    )
    assert FREE_IMPACT.limits()[0] == "peak at most 1400 N"
    assert CRUSH.peak.tag == "SEEN Powered Gate Myth Buster #2, Door & Hardware Federation"
    assert RESIDUAL_80.tag == "MEM-mid EN 16005"
    other = CRUSH.with_residual(RESIDUAL_80)
    assert other.name == "EN, crush zone, residual 80 N"
    assert other.limits()[3] == "at most 80 N after 5 s"
    for rules in RULE_SETS.values():
        figures = [getattr(rules, name) for name in rules.__dataclass_fields__]
        assert all(f.tag for f in figures if isinstance(f, Figure))
        assert rules.residual is RESIDUAL_25, "the alternative is never the default"


def test_a_breach_is_never_rounded_away() -> None:
    """A figure that is over its limit by less than the display shows is written finer, so that the words are true."""
    over = judge(good(static_n=150.0 + 1 / 3), CRUSH)
    assert str(over) == "over the limit (EN, crush zone): 150.3 N after 0.75 s, at most 150 N"
    late = judge(good(above_static_s=0.7504), CRUSH)
    assert str(late) == "over the limit (EN, crush zone): above 150 N for 0.7504 s, at most 0.75 s"


def test_origins_are_told_in_words() -> None:
    """What a tag means is spelled out, several tags each, and the residual limits say what is doubtful about them."""
    assert CRUSH.peak.origin == "read in Powered Gate Myth Buster #2, Door & Hardware Federation"
    assert Figure(50, "mm", "SEEN-V; MEM-mid EN 12445 5.2.2").origin == (
        "restated on a trade page; from memory, with middling confidence, of EN 12445 5.2.2"
    )
    assert RESIDUAL_25.origin.endswith("; not verified in the text of the 2017 edition of EN 12453")
    assert RESIDUAL_80.origin == (
        "from memory, with middling confidence, of EN 16005; as far as memory goes it belongs to pedestrian doors "
        "and not to gates"
    )
    assert len(CRUSH.origins()) == len(CRUSH.limits())


def test_the_family_takes_one_residual_for_both_its_sets() -> None:
    """The alternative changes the residual limit and nothing else; the default changes nothing at all."""
    assert EN.with_residual(RESIDUALS[25]) is EN
    other = EN.with_residual(RESIDUALS[80])
    for gap, plain in ((300.0, CRUSH), (700.0, FREE_IMPACT)):
        assert other.at(gap) == plain.with_residual(RESIDUAL_80)
        assert other.at(gap).peak == plain.peak
    assert next(iter(RESIDUALS.values())) is RESIDUAL_25


def test_readings_at_a_point_differ_by_draws_alone() -> None:
    """One gauge, one curve: the readings differ by their own draws, are the same again, and leave others alone."""
    curve = np.array([0.0, 380.0, 140.0, 20.0])
    kept = [as_kept(curve, seed=7, where="here", index=index) for index in (1, 2, 3)]
    assert len({tuple(one) for one in kept}) > 1
    assert np.array_equal(kept[1], as_kept(curve, seed=7, where="here", index=2))
    assert not np.array_equal(as_kept(10 * curve, seed=7, where="there", index=2), 10 * kept[1])
    assert not np.array_equal(as_kept(10 * curve, seed=8, where="here", index=2), 10 * kept[1])


@given(seed=st.integers(0, 2**31), index=st.integers(1, 50), force=st.floats(25.0, 2000.0))
def test_a_gauge_stays_within_its_accuracy(seed: int, index: int, force: float) -> None:
    """What is kept is a whole number of steps, off by no more than the accuracy and half a step (facts 1.3, CP)."""
    kept = float(as_kept(np.array([force]), seed=seed, where="here", index=index)[0])
    assert kept == round(kept)
    assert abs(kept - force) <= GAUGE_ACCURACY.value * force + 0.5 * SPEC.step_n + 1e-9


def test_a_perfect_gauge_keeps_the_curve() -> None:
    """Without errors and with a fine step nothing is changed beyond the step."""
    curve = np.array([0.0, 123.456, 77.7])
    fine = GaugeSpec(scale_error=0.0, repeat_error=0.0, step_n=0.001)
    assert np.allclose(as_kept(curve, seed=1, where="here", index=1, spec=fine), curve, atol=5e-4)


def test_the_gap_chooses_the_rules() -> None:
    """Up to 500 mm a gap crushes (facts 1.2, S2); above it does not."""
    assert [rules_at(gap).name for gap in (30, 50, 500)] == [CRUSH.name] * 3
    assert rules_at(500.1) is FREE_IMPACT


def test_rise_time_is_five_milliseconds() -> None:
    """A step passes from 10 to 90 % in 5 ms (facts 1.3, S9: rise time at most 5 ms)."""
    time, shown = amplified([0.0, 1e-9, 0.05], [0.0, 100.0, 100.0], step_s=1e-5)
    low, high = (np.interp(part, shown, time) for part in (10.0, 90.0))
    assert high - low == pytest.approx(5e-3, rel=1e-3)
    assert pytest.approx(5e-3 / 2.197, rel=1e-3) == AMPLIFIER_S


def half_sine(peak: float, half_s: float) -> tuple[np.ndarray, np.ndarray]:
    """The raw blow of a mass on a spring, in 0.1 ms pieces."""
    time = np.arange(0.0, half_s, 1e-4)
    return time, peak * np.sin(np.pi * time / half_s)


def test_the_amplifier_against_an_integrator() -> None:
    """The shown curve of a blow equals scipy's solution of the same first-order lag (scipy.integrate.solve_ivp)."""
    time, raw = half_sine(894.43, 2 * 14.05e-3)  # facts C08, C09: 40 kg on 500 N/mm at 0.2 m/s
    at, shown = amplified(time, raw)
    solved = solve_ivp(
        lambda t, y: (np.interp(t, time, raw) - y) / AMPLIFIER_S,
        (0.0, time[-1]), [0.0], t_eval=at, rtol=1e-9, atol=1e-7, max_step=5e-5,
    )  # fmt: skip
    assert np.abs(shown - solved.y[0]).max() < 0.05


def test_a_slower_amplifier_shows_a_lower_peak() -> None:
    """The shown peak falls as the time constant grows, and an ideal one shows the true peak (facts 1.3)."""
    time, raw = half_sine(894.43, 2 * 14.05e-3)
    peaks = [amplified(time, raw, tau)[1].max() for tau in (0.0, 0.5e-3, 1e-3, AMPLIFIER_S, 5e-3)]
    assert peaks[0] == pytest.approx(raw.max())
    assert all(a > b for a, b in pairwise(peaks))
