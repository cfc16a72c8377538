"""Draws: decided by who asks, what for and which time, and by nothing else."""

from __future__ import annotations

import pytest

from sim.draws import normal, pick, row, uniform


def test_a_draw_has_no_memory() -> None:
    """The same question has the same answer, however many others were asked between."""
    first = uniform(7, "multimeter", "volts dc", 3), normal(7, "wind", "gust", 40)
    for index in range(100):
        uniform(7, "another part", "noise", index)
    assert (uniform(7, "multimeter", "volts dc", 3), normal(7, "wind", "gust", 40)) == first


def test_every_part_of_the_question_counts() -> None:
    """Seed, name, purpose and index each make another draw; a boundary between words can't be shifted."""
    asked = [
        (7, "meter", "volts", 0),
        (8, "meter", "volts", 0),
        (7, "tester", "volts", 0),
        (7, "meter", "ohms", 0),
        (7, "meter", "volts", 1),
        (7, "meter volts", "", 0),
        (7, "", "meter volts", 0),
    ]
    assert len({uniform(*question) for question in asked}) == len(asked)


def test_bits_are_fixed() -> None:
    """Journals of this product version replay on these draws: a change of method must show. Values of our own."""
    assert uniform(1, "multimeter", "volts dc", 0) == 0.1569781803073248
    assert normal(1, "multimeter", "volts dc", 0) == 1.0854910758789629


def test_uniform_fills_its_range_evenly() -> None:
    """10 000 draws: mean 1/2 and variance 1/12 within four standard errors, each tenth hit about as often."""
    values = [uniform(3, "part", "test", i) for i in range(10_000)]
    assert all(0.0 <= v < 1.0 for v in values)
    assert sum(values) / 10_000 == pytest.approx(0.5, abs=4 * 0.289 / 100)
    counts = [sum(int(v * 10) == k for v in values) for k in range(10)]
    assert all(abs(count - 1000) < 4 * 30 for count in counts)


def test_normal_has_mean_nought_and_deviation_one() -> None:
    """10 000 draws: moments of a normal within four standard errors; 68.3 % within one deviation."""
    values = [normal(3, "part", "test", i) for i in range(10_000)]
    mean = sum(values) / 10_000
    variance = sum((v - mean) ** 2 for v in values) / 10_000
    assert mean == pytest.approx(0.0, abs=0.04)
    assert variance == pytest.approx(1.0, abs=0.06)
    assert sum(abs(v) < 1.0 for v in values) / 10_000 == pytest.approx(0.683, abs=0.02)
    assert max(abs(v) for v in values) < 6.0


def test_picking() -> None:
    """Each option is as likely; from nothing nothing can be picked."""
    picked = [pick(("a", "b", "c"), 1, "job", "which leaf", i) for i in range(3000)]
    assert all(abs(picked.count(option) - 1000) < 4 * 26 for option in "abc")
    with pytest.raises(ValueError, match="nothing to pick from for job, which leaf"):
        pick((), 1, "job", "which leaf")


def test_a_row_does_not_know_its_window() -> None:
    """Any part of a row asked for by itself has the same bits, and other names and seeds have other rows."""
    whole = row(7, "wind", "gust", -40, 120)
    for first, count in ((-40, 1), (-33, 20), (-1, 2), (15, 17), (79, 1)):
        assert row(7, "wind", "gust", first, count) == whole[first + 40 : first + 40 + count]
    assert row(7, "wind", "gust", 5, 0) == []
    assert all(0.0 <= each < 1.0 for each in whole)
    assert not set(whole) & set(row(8, "wind", "gust", -40, 120))
    assert not set(whole) & set(row(7, 'Hölle, "quoted"', "gust", -40, 120))
