"""The journal's own rules: what is refused, what comes back, what a damaged file says."""

from __future__ import annotations

import dataclasses
import errno
import json
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sim.errors import JournalError
from sim.units import SECOND, Us
from trainer.session.branches import abandoned, living
from trainer.session.disk import PlainDisk
from trainer.session.journal import FILE, Header, Journal, read_journal
from trainer.session.lines import Line, decode, encode

WORDS = st.text() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.booleans()


def played(folder: Path, header: Header) -> Journal:
    """A short session: two acts, time, a digest, a look back, a hint, going on from the past, the end."""
    journal = Journal.create(folder, header)
    journal.act(Us(0), "press", {"control": "open button"})
    journal.act(Us(SECOND), "release", {"control": "open button"})
    journal.reached(Us(5 * SECOND))
    journal.digest(Us(5 * SECOND), "ab12")
    journal.look(Us(5 * SECOND), Us(SECOND))
    journal.hint(Us(5 * SECOND), "what do you know is still good?")
    journal.branch(Us(2 * SECOND), kept=3)
    journal.act(Us(3 * SECOND), "isolate", {})
    journal.end(Us(9 * SECOND), "finished")
    return journal


def test_what_is_written_is_what_is_read(tmp_path: Path, header: Header) -> None:
    """Opening a journal again gives the lines that `append` returned, and the header."""
    with played(tmp_path / "s", header) as journal:
        written = journal.entries()
    with Journal.open(tmp_path / "s") as again:
        assert again.entries() == written
        assert again.header == header
        assert again.torn is None
    assert read_journal(tmp_path / "s").lines == written
    assert [line.kind for line in written] == [
        "header", "action", "action", "time reached", "digest", "look", "hint", "branch", "action", "end",
    ]  # fmt: skip


def test_every_line_is_json_and_says_its_number(tmp_path: Path, header: Header) -> None:
    """Any JSON reader can read a journal; line n of the file calls itself n."""
    played(tmp_path / "s", header).close()
    rows = [json.loads(row) for row in (tmp_path / "s" / FILE).read_text("ascii").splitlines()]
    assert [row["n"] for row in rows] == list(range(1, 11))
    assert rows[1] | {"sum": ""} == {
        "n": 2, "t": 0, "kind": "action", "do": "press", "with": {"control": "open button"}, "sum": "",
    }  # fmt: skip
    assert rows[0]["format"] == "gudgeon-journal/1"


@given(data=st.dictionaries(st.text().filter(lambda k: k not in {"n", "t", "kind", "sum"}), WORDS, max_size=4))
def test_a_line_comes_back_whatever_was_typed(data: dict[str, object]) -> None:
    """decode(encode(line)) is the line, for any text, number or truth; the only line feed closes the line."""
    line = Line(3, Us(12), "action", data)
    raw = encode(line)
    assert raw.index(b"\n") == len(raw) - 1
    assert decode(raw[:-1]) == line


@given(at=st.integers(0), bit=st.integers(0, 7), text=st.text(max_size=20))
def test_one_flipped_bit_is_seen(at: int, bit: int, text: str) -> None:
    """Flipping any single bit of a line makes it unreadable."""
    raw = bytearray(encode(Line(3, Us(12), "hint", {"text": text}))[:-1])
    raw[at % len(raw)] ^= 1 << bit
    with pytest.raises(ValueError, match=r"."):
        decode(bytes(raw))


def test_going_on_from_the_past_keeps_the_left_branch(tmp_path: Path, header: Header) -> None:
    """A branch takes lines out of the living ones and out of nothing else; the header always counts."""
    with played(tmp_path / "s", header) as journal:
        lines = journal.entries()
        assert [line.number for line in living(lines)] == [1, 2, 3, 8, 9, 10]
        assert [[line.number for line in left] for left in abandoned(lines)] == [[4, 5, 6, 7]]
        with pytest.raises(JournalError, match="line 5 to go on from; allowed: a line that still counts"):
            journal.branch(Us(5 * SECOND), kept=5)
        with pytest.raises(JournalError, match=r"read 0:00:00.50 to go on from; allowed: 0:00:01.00 or later"):
            journal.branch(Us(SECOND // 2), kept=3)
        journal.branch(Us(2 * SECOND), kept=2, fork="practice")
        assert [line.number for line in journal.living()] == [1, 2, 11]
        assert [[line.number for line in left] for left in abandoned(journal.entries())] == [
            [4, 5, 6, 7],
            [3, 8, 9, 10],
        ]


def test_a_line_that_could_not_be_replayed_is_refused(tmp_path: Path, header: Header) -> None:
    """Going back in time, a second header, an act after the end, data no file can hold: refused, nothing written."""
    with played(tmp_path / "s", header) as journal:
        before = (tmp_path / "s" / FILE).read_bytes()
        with pytest.raises(JournalError, match="this session has ended; allowed: a branch, a look, a hint"):
            journal.act(Us(10 * SECOND), "isolate", {})
        with pytest.raises(JournalError, match=r"read 0:00:01.00 after 0:00:09.00 of line 10"):
            journal.look(Us(SECOND), Us(0))
        with pytest.raises(JournalError, match="second header"):
            journal.append("header", Us(10 * SECOND))
        with pytest.raises(JournalError, match="can't be written"):
            journal.append("hint", Us(10 * SECOND), {"text": float("nan")})
        with pytest.raises(JournalError, match="can't be written"):
            journal.append("hint", Us(10 * SECOND), {"text": Path("x")})
        with pytest.raises(JournalError, match="can't carry the key 'n'"):
            journal.append("hint", Us(10 * SECOND), {"n": 1})
        assert (tmp_path / "s" / FILE).read_bytes() == before
        journal.branch(Us(2 * SECOND), kept=3)
        journal.act(Us(4 * SECOND), "isolate", {})  # the branch took the end back
        with pytest.raises(JournalError, match="kind 'wish'"):
            journal.append("wish", Us(4 * SECOND))  # type: ignore[arg-type]


def test_a_torn_last_line_is_cut_kept_beside_and_told(tmp_path: Path, header: Header) -> None:
    """Every acknowledged line survives; the piece cut off is told and not thrown away; numbering goes on."""
    folder = tmp_path / "s"
    with Journal.create(folder, header) as journal:
        journal.act(Us(0), "isolate", {})
    whole = (folder / FILE).read_bytes()
    (folder / FILE).write_bytes(whole + b'{"n":3,"t":0,"ki')
    assert read_journal(folder).torn is not None
    assert (folder / FILE).read_bytes() != whole, "looking must not mend"
    with Journal.open(folder) as journal:
        assert str(journal.torn) == (
            "The last write was cut short: 16 bytes after line 2 were taken off the journal and kept beside it. "
            "Everything acknowledged is there."
        )
        assert journal.act(Us(0), "restore", {}).number == 3
    assert (folder / "journal.cut").read_bytes() == b'{"n":3,"t":0,"ki\n'
    assert [line.number for line in read_journal(folder).lines] == [1, 2, 3]


@pytest.mark.parametrize("line", range(1, 10))
def test_a_damaged_line_in_the_middle_is_named(tmp_path: Path, header: Header, line: int) -> None:
    """A journal damaged anywhere but in its last write is refused with file and line, and stays as it is."""
    folder = tmp_path / "s"
    played(folder, header).close()
    rows = (folder / FILE).read_bytes().splitlines(keepends=True)
    rows[line - 1] = rows[line - 1].replace(b'"t":', b'"t":1', 1)
    (folder / FILE).write_bytes(b"".join(rows))
    for opener in (Journal.open, read_journal):
        with pytest.raises(JournalError, match=rf"journal\.jsonl:{line}: this line is damaged: its checksum"):
            opener(folder)
    assert (folder / FILE).read_bytes() == b"".join(rows)


def test_a_line_taken_out_is_noticed(tmp_path: Path, header: Header) -> None:
    """Whole lines in the wrong place are damage too."""
    folder = tmp_path / "s"
    played(folder, header).close()
    rows = (folder / FILE).read_bytes().splitlines(keepends=True)
    (folder / FILE).write_bytes(b"".join(rows[:3] + rows[4:]))
    with pytest.raises(JournalError, match=r"journal\.jsonl:4: this line is damaged: it calls itself line 5"):
        Journal.open(folder)


def test_a_file_that_is_no_journal_of_ours_says_so(tmp_path: Path, header: Header) -> None:
    """No file, no header, another format: each refused in a sentence."""
    with pytest.raises(JournalError, match=r"read no journal\.jsonl; allowed: the folder of a session"):
        Journal.open(tmp_path / "nothing")
    (tmp_path / FILE).write_bytes(b"")
    with pytest.raises(JournalError, match=r":1: read no header"):
        Journal.open(tmp_path)
    Journal.create(tmp_path / "old", dataclasses.replace(header, format="gudgeon-journal/0")).close()
    with pytest.raises(JournalError, match=r":1 format: read 'gudgeon-journal/0'; allowed: 'gudgeon-journal/1'"):
        Journal.open(tmp_path / "old")
    (tmp_path / FILE).write_bytes(encode(Line(1, Us(0), "header", {"format": "gudgeon-journal/1", "extra": 1})))
    with pytest.raises(JournalError, match=r"keys .*extra.* are missing or unknown"):
        Journal.open(tmp_path)


def test_a_folder_holds_one_session(tmp_path: Path, header: Header) -> None:
    """A second create in the same folder is refused and harms nothing; a piece of a killed creation does not."""
    (tmp_path / "s").mkdir()
    (tmp_path / "s" / "journal.jsonl.new").write_bytes(b'{"n":1,"t"')
    Journal.create(tmp_path / "s", header).close()
    before = (tmp_path / "s" / FILE).read_bytes()
    with pytest.raises(JournalError, match="read a session already there"):
        Journal.create(tmp_path / "s", dataclasses.replace(header, seed=8))
    assert (tmp_path / "s" / FILE).read_bytes() == before


def test_only_one_writes(tmp_path: Path, header: Header) -> None:
    """While a journal is held no other process or part can open it; reading is free; closing frees it."""
    with Journal.create(tmp_path / "s", header) as journal:
        with pytest.raises(JournalError, match=r"process \d+ is writing this session"):
            Journal.open(tmp_path / "s")
        code = (
            "import sys; from pathlib import Path; from trainer.session.journal import Journal; "
            "Journal.open(Path(sys.argv[1]))"
        )
        other = subprocess.run(
            [sys.executable, "-c", code, str(tmp_path / "s")], capture_output=True, text=True, check=False
        )
        assert other.returncode == 1
        assert "is writing this session; close it there" in other.stderr
        assert len(read_journal(tmp_path / "s").lines) == 1
        journal.close()
        with pytest.raises(JournalError, match="this journal is closed"):
            journal.reached(Us(0))
    Journal.open(tmp_path / "s").close()


def test_a_refused_opening_leaves_no_lock(tmp_path: Path, header: Header) -> None:
    """A journal that could not be opened can be opened after it was mended."""
    Journal.create(tmp_path / "s", header).close()
    good = (tmp_path / "s" / FILE).read_bytes()
    (tmp_path / "s" / FILE).write_bytes(good.replace(b"first", b"thirst"))
    with pytest.raises(JournalError, match="damaged"):
        Journal.open(tmp_path / "s")
    (tmp_path / "s" / FILE).write_bytes(good)
    Journal.open(tmp_path / "s").close()


class FullDisk(PlainDisk):
    """The real disk with a file that can't grow past a size."""

    def __init__(self, room: int) -> None:
        self.room = room

    def open(self, path: Path) -> object:  # type: ignore[override]
        inner, disk = super().open(path), self

        class Tight:
            def write(self, data: bytes) -> None:
                inner.write(data[: disk.room])
                if len(data) > disk.room:
                    raise OSError(errno.ENOSPC, "No space left on device")
                disk.room -= len(data)

            def sync(self) -> None:
                inner.sync()

            def cut(self, size: int) -> None:
                inner.cut(size)

            def close(self) -> None:
                inner.close()

        return Tight()


def test_a_full_disk_acknowledges_nothing_and_loses_nothing(tmp_path: Path, header: Header) -> None:
    """When a write fails the act is refused and so are all after it; opening again goes on from the last one."""
    with Journal.create(tmp_path / "s", header, FullDisk(2000)) as journal:
        acknowledged = [journal.act(Us(turn), "note", {"text": "x" * 60}) for turn in range(3)]
        with pytest.raises(JournalError, match="No space left on device"):
            journal.act(Us(3), "note", {"text": "x" * 5000})
        with pytest.raises(JournalError, match="open the session again"):
            journal.reached(Us(200))
    with Journal.open(tmp_path / "s") as again:
        assert list(again.entries()[1:]) == acknowledged
        assert again.torn is not None
    with pytest.raises(JournalError, match="can't be used: No space left on device"):
        Journal.create(tmp_path / "t", header, FullDisk(10))
