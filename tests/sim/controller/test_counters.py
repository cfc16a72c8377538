"""What the panel counts: movements, obstacles met, guard trips, in all and since the sheet was sealed last."""

from __future__ import annotations

from sim.controller import calendar


def counts(gate) -> dict[str, tuple[int, int]]:
    """(since the last visit, in all) of each counter."""
    return {each.name: (each.since_visit, each.in_all) for each in gate.controller.panel().counters}


def test_what_is_counted(gate) -> None:
    """A start from rest is a movement, a reversal is none; each obstacle and each guard that trips counts once."""
    before = counts(gate)
    gate.tap("open button")
    gate.until_state("open")
    gate.tap("close button")
    gate.until_state("closing")
    gate.run(2.0)
    gate.trip("outer beam")
    gate.until_state("open")
    gate.clear("outer beam")
    gate.run(0.1)
    gate.leaves[0].blocked_below = 600.0
    gate.tap("close button")
    gate.until_state("reversing")
    gate.until_state("open")
    gained = {
        name: (since - before[name][0], total - before[name][1]) for name, (since, total) in counts(gate).items()
    }
    assert gained == {"movements": (3, 3), "obstacles met": (1, 1), "guard trips": (1, 1)}


def test_the_guard_test_trips_nothing(gate) -> None:
    """Beams that are dropped for their test count as no trips, or every start would be two."""
    gate.tap("open button")
    gate.until_state("open")
    assert counts(gate)["guard trips"] == (0, 0)


def test_a_visit_ends_with_the_seal(gate) -> None:
    """From the seal on it is counted anew; in all it goes on; a loss of power loses neither."""
    gate.controller.know_time(gate.now, calendar.typed("21 June 10:00"))
    gate.trip("outer beam")
    gate.run(0.1)
    gate.clear("outer beam")
    in_all = counts(gate)["movements"][1]
    assert gate.ask("seal", "Mira") == "done: seal"
    assert counts(gate) == {"movements": (0, in_all), "obstacles met": (0, 0), "guard trips": (0, 1)}
    gate.tap("open button")
    gate.until_state("open")
    gate.run(1.0)
    gate.supply_v = 2.0
    gate.run(1.0)
    gate.supply_v = 27.3
    gate.run(1.0)
    assert counts(gate) == {"movements": (1, in_all + 1), "obstacles met": (0, 0), "guard trips": (0, 1)}
    assert gate.controller.panel().counted == (
        "since the sheet was sealed (21 June, 10:00:00): movements 1, obstacles met 0, guard trips 0; "
        f"in all: movements {in_all + 1}, obstacles met 0, guard trips 1"
    )


def test_a_sheet_that_was_never_sealed_has_one_count(fresh) -> None:
    """Before the first visit ends there is nothing to count since."""
    assert fresh.controller.panel().counted == "in all: movements 0, obstacles met 0, guard trips 0"
