"""What a seed decides: the same for the same seed, independent between draws, and never written down."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from trainer.job import load_job, resolve
from trainer.job.draw import every_outcome, merged, outcome
from trainer.job.models import Arrival, Choice, Draw


def draw(name: str, count: int, first: int = 0) -> Draw:
    return Draw(name=name, one_of=tuple(Choice() for _ in range(count)), first=first)


def test_seed_nought_is_the_first_pass(folder: Path) -> None:
    """Every draw has its first outcome, whatever its place in the list."""
    found = resolve(load_job(folder / "jobs/small.yaml"), 0)
    assert dict(found.values) == {"wrong leaf": "inactive", "first leaf": "inactive", "height": 7.5}
    assert found.arrival.swapped_leads == ("inactive",)
    assert (found.site.cover_strip.face, found.site.opens_first) == ("outside", "inactive")


@given(st.integers(1, 2**31), st.text(max_size=20), st.text(min_size=1, max_size=20), st.integers(2, 12))
def test_an_outcome_depends_on_seed_title_and_name_alone(seed: int, title: str, name: str, count: int) -> None:
    """The same three give the same outcome, one of those there are; the first pass's choice plays no part."""
    found = outcome(draw(name, count), seed, title)
    assert 0 <= found < count
    assert outcome(draw(name, count, first=1), seed, title) == found


def test_adding_a_draw_leaves_the_others(folder: Path) -> None:
    """Law of draws: one more draw changes no outcome of the draws that were there."""
    path = folder / "jobs/small.yaml"
    before = [dict(resolve(load_job(path), seed).values) for seed in range(1, 30)]
    more = "draw:\n- name: wind\n  one_of:\n  - {site: {weather.wind_m_s: 0}}\n  - {site: {weather.wind_m_s: 5}}\n"
    path.write_text(path.read_text().replace("draw:\n", more, 1))
    job = load_job(path)
    assert [dict(resolve(job, seed).values) for seed in range(1, 30)] == before
    assert {resolve(job, seed).site.weather.wind_m_s for seed in range(1, 30)} == {0.0, 5.0}


def test_outcomes_are_spread_over_seeds() -> None:
    """1200 seeds over 4 outcomes: each within a fifth of 300 (four standard deviations of a fair draw are 60)."""
    counts = Counter(outcome(draw("strip", 4), seed, "Any job") for seed in range(1, 1201))
    assert set(counts) == {0, 1, 2, 3}
    assert all(240 <= count <= 360 for count in counts.values())


def test_two_draws_of_one_job_are_independent() -> None:
    """Knowing one outcome says nothing of the other: 1200 seeds over 2 by 2 outcomes."""
    pairs = Counter(
        (outcome(draw("leaf", 2), seed, "Any job"), outcome(draw("guard", 2), seed, "Any job"))
        for seed in range(1, 1201)
    )
    assert all(240 <= pairs[pair] <= 360 for pair in ((0, 0), (0, 1), (1, 0), (1, 1)))


def test_what_was_drawn_is_not_in_its_text(folder: Path) -> None:
    """A resolved job that ends up in a log gives nothing away."""
    job = load_job(folder / "jobs/small.yaml")
    texts = {repr(resolve(job, seed)).replace(f"seed={seed}", "") for seed in range(40)}
    assert len({tuple(resolve(job, seed).values.values()) for seed in range(40)}) == 4
    assert texts == {"Resolved()"}


def test_every_combination_is_counted(folder: Path) -> None:
    """Two draws of two are four combinations."""
    assert sorted(every_outcome(load_job(folder / "jobs/small.yaml"))) == [(0, 0), (0, 1), (1, 0), (1, 1)]


def test_a_draw_replaces_only_what_it_names() -> None:
    """Lists are replaced whole; the sheet and the angles are merged setting by setting, leaf by leaf."""
    base = Arrival(mains="off", swapped_leads=("active",), sheet={"auto-close": "on", "run speed": 80})
    over = Arrival.model_validate({"sheet": {"run speed": 60}, "angles_deg": {"inactive": 30.0}})
    found = merged(base, over)
    assert (found.mains, found.swapped_leads) == ("off", ("active",))
    assert found.sheet == {"auto-close": "on", "run speed": 60}
    assert (found.angles_deg.active, found.angles_deg.inactive) == (0.0, 30.0)
    assert base.sheet["run speed"] == 80
