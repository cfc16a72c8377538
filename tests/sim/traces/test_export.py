"""CSV that any reader of RFC 4180 can read back bit for bit."""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from sim.traces.export import write_table
from sim.traces.signal import Changes, Signal, Trace


def test_the_table_as_bytes(taken: Trace, tmp_path: Path) -> None:
    """Heads with units, CRLF, a row for each sample and each change, held values between."""
    assert write_table(taken, tmp_path / "out.csv") == 7
    assert (tmp_path / "out.csv").read_bytes().decode().split("\r\n") == [
        "time [s],active leaf angle [°],any guard tripped,controller state,outer beam",
        "0.00,0,0,closed,clear",
        "1.00,0.1,0,opening,clear",
        "1.50,0.1,0,opening,tripped",
        "2.00,30,1,opening,tripped",
        "2.50,30,1,opening,clear",
        "3.00,90,0,open,clear",
        "5.00,90,0,open,clear",
        "",
    ]


TEXTS = st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\0"), min_size=1, max_size=12)


@given(
    values=st.lists(st.floats(allow_nan=False), min_size=1, max_size=6),
    step=st.integers(1, 10**7),
    words=st.lists(TEXTS, max_size=4),
    name=TEXTS,
)
def test_everything_comes_back(
    tmp_path_factory: object, values: list[float], step: int, words: list[str], name: str
) -> None:
    """Any value, any microsecond and any text (quotes, commas, line feeds) is read back as it was."""
    times = np.arange(len(values), dtype=np.int64) * step
    changes = Changes.of("said", [(i * step, word) for i, word in enumerate(words)])
    taken = Trace(times, (Signal(f"x{name}", "N", np.array(values)),), (changes,))
    path = Path(tmp_path_factory.mktemp("csv")) / "out.csv"  # type: ignore[attr-defined]
    write_table(taken, path)
    with path.open(encoding="utf-8", newline="") as file:
        head, *rows = list(csv.reader(file))
    assert head == ["time [s]", f"x{name} [N]", "said"]
    read = {round(float(row[0]) * 1e6): row for row in rows}
    for at, value in zip(times.tolist(), values, strict=True):
        assert float(read[at][1]) == value
        assert np.signbit(float(read[at][1])) == np.signbit(value)
    for at, row in read.items():
        assert row[2] == changes.at(at)


def test_a_change_before_the_first_sample_has_empty_cells(tmp_path: Path) -> None:
    """What was not measured is empty, not zero."""
    taken = Trace(
        np.array([20], dtype=np.int64), (Signal("x", "N", np.array([1.0])),), (Changes.of("s", [(10, "on")]),)
    )
    write_table(taken, tmp_path / "out.csv")
    assert (tmp_path / "out.csv").read_text().splitlines()[1:] == ["0.00001,,on", "0.00002,1,on"]
