"""The reader lets nothing through but plain data, and nothing out but ScenarioError with a place."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from sim.errors import ScenarioError
from sim.site import read_text, read_yaml
from sim.site.reader import DEEPEST, LARGEST_BYTES, MOST_NODES


def refusal(text: str) -> str:
    with pytest.raises(ScenarioError) as caught:
        read_text(text, "f.yaml")
    return str(caught.value)


# what slips through a plain loader as a bare ValueError, seen by fuzzing the library
@pytest.mark.parametrize(
    ("scalar", "line"),
    [("-_", 2), ("0b_", 2), ("0x_", 2), ("0o_", 2), ("+_", 2), ("._", 2), ("2026-02-31", 2), ("2026-13-01", 2)],
)
def test_number_shapes_that_are_no_numbers_are_refused_with_line_and_column(scalar: str, line: int) -> None:
    """`int('')` and impossible dates inside the YAML library become a sentence with the place."""
    assert refusal(f"ok: 1\nbad: {scalar}\n").startswith(f"f.yaml:{line}:6 bad: read '{scalar}'")


def test_a_whole_number_of_more_than_4300_digits_is_refused() -> None:
    """Python refuses to convert it with a ValueError; a person gets a place and a short quotation."""
    said = refusal("a: " + "9" * 5000)
    assert said.startswith("f.yaml:1:4 a: read '999")
    assert "(5000 characters)" in said
    assert len(said) < 400


@pytest.mark.parametrize("scalar", [".inf", "-.inf", ".nan", "1e999"])
def test_numbers_that_are_not_finite_are_refused(scalar: str) -> None:
    """No quantity of a gate is infinite."""
    assert "a number must be finite" in refusal(f"a: {scalar}")


def test_whole_numbers_beyond_exact_floats_are_refused() -> None:
    """2**53 + 2 can't be told from its neighbour once it is a float."""
    assert read_text(f"a: {2**53}", "f").data == {"a": 2**53}
    assert "whole number beyond" in refusal(f"a: {2**53 + 2}")


def test_a_date_is_refused_and_told_to_stand_in_quotes() -> None:
    """Dates would come out as objects of another type."""
    assert refusal("a: 2026-02-28") == "f.yaml:1:4 a: read '2026-02-28', a date; put it in quotes if text is meant"
    assert read_text("a: '2026-02-28'", "f").data == {"a": "2026-02-28"}


def test_plain_words_stay_words() -> None:
    """YAML 1.2: only true and false are truth values; leading zeros and colons don't change a number's base."""
    read = read_text("a: no\nb: on\nc: 012\nd: 12:30\ne: true\nf: ~\n", "f").data
    assert read == {"a": "no", "b": "on", "c": 12, "d": "12:30", "e": True, "f": None}


def test_an_older_dialect_can_not_be_switched_on() -> None:
    """`%YAML 1.1` would turn `no` into false."""
    assert "directive" in refusal("%YAML 1.1\n---\na: no")


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("a: &x 1", "anchor '&x'"),
        ("&x [*x]", "anchor '&x'"),
        ("a: &x [*x]", "anchor '&x'"),
        ("a: *x", "alias '*x'"),
        ("a: !!python/object/apply:os.system [id]", "nothing in a file is executed"),
        ("a: !thing {}", "tag '!thing'"),
        ("a: !!binary zzz", "tag"),
        ("<<: {a: 1}", "plain text"),
    ],
)
def test_tags_anchors_and_aliases_are_refused(text: str, word: str) -> None:
    """A list can't contain itself and nothing is built but plain data."""
    said = refusal(text)
    assert said.startswith("f.yaml:1:")
    assert word in said


def test_an_alias_bomb_is_refused_at_its_first_anchor() -> None:
    """Ten lines that would unfold to a thousand million items are refused on line 1, before anything is built."""
    lines = ['a0: &a0 ["x"]'] + [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 10)}]" for n in range(1, 10)]
    assert refusal("\n".join(lines)).startswith("f.yaml:1:5: anchor '&a0'")


def test_a_key_that_stands_twice_is_refused_with_both_lines() -> None:
    """The second of two equal keys never silently wins."""
    assert refusal("a: 1\nb:\n  c: 1\n  c: 2\n") == (
        "f.yaml:4:3 b.c: the key stands here twice; the first is on line 3"
    )


def test_every_problem_of_a_file_is_told_at_once() -> None:
    """Two mistakes, two sentences, in the order of the lines."""
    said = refusal("a: -_\nb: 1\nb: 2\n").split("\n")
    assert [line.split(" ")[0] for line in said] == ["f.yaml:1:4", "f.yaml:3:1"]


@pytest.mark.parametrize("key", ["1", "1.5", "true", "~", "2026-02-28", "[a]", "{a: 1}"])
def test_keys_are_plain_text(key: str) -> None:
    """A number, a truth value, nothing, a date or a list is no key."""
    assert "plain text" in refusal(f"? {key}\n: 1\n")


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? "])
def test_deep_nesting_is_refused_without_building_it(opening: str) -> None:
    """A hundred thousand levels neither overflow a stack nor take long."""
    prefix = "a: " if opening in ("[", "{a: ") else ""
    assert f"nested more than {DEEPEST} deep" in refusal(prefix + opening * 20_000)


def test_nesting_to_the_limit_is_read() -> None:
    """The limit itself is allowed: twelve levels, the outer mapping counted."""
    text = "a: " + "[" * (DEEPEST - 1) + "]" * (DEEPEST - 1)
    assert "a" in read_text(text, "f").data
    assert "nested more" in refusal("a: " + "[" * DEEPEST + "]" * DEEPEST)


def test_too_many_values_are_refused() -> None:
    """A long list of nothing can't fill the memory."""
    assert f"more than {MOST_NODES} keys and values" in refusal("a: [" + "1," * (MOST_NODES + 1) + "]")


@pytest.mark.parametrize("text", ["", "\n", "# only a comment\n", "   \n"])
def test_an_empty_file_is_called_empty(text: str) -> None:
    """An empty file is no site with defaults."""
    assert refusal(text) == "f.yaml:1:1: the file is empty"


@pytest.mark.parametrize("text", ["[1, 2]", "just words", "- a\n- b"])
def test_a_file_is_a_mapping(text: str) -> None:
    """A list or a word is no scenario."""
    assert "the file must be keys with values" in refusal(text)


def test_a_second_document_is_refused() -> None:
    """What stands behind `---` would be ignored silently."""
    assert refusal("a: 1\n---\nb: 2\n").startswith("f.yaml:2:1: a second document")


@pytest.mark.parametrize(
    "text",
    ["a: 'x", "a: [1", "a:\tb\n\t- c", "a: @x", 'a: "\\U00110000"', "\x00", "a: \x07", "{a: 1", "a\nb: 1"],
)
def test_broken_text_is_refused_with_a_line(text: str) -> None:
    """Whatever the scanner stumbles over, the sentence names file and line."""
    assert refusal(text).startswith("f.yaml:1:") or refusal(text).startswith("f.yaml:2:")


def test_half_a_character_pair_is_refused() -> None:
    """A lone surrogate can't be written to a journal."""
    assert "surrogate" in refusal('a: "\\ud800"')


# files


def test_a_missing_file_names_a_neighbour(tmp_path: Path) -> None:
    """The commonest mistake is a slip in the name."""
    (tmp_path / "orchard.yaml").write_text("a: 1")
    with pytest.raises(ScenarioError) as caught:
        read_yaml(tmp_path / "orchad.yaml")
    assert str(caught.value) == f"{tmp_path / 'orchad.yaml'}: there is no such file; did you mean 'orchard.yaml'?"


def test_a_folder_and_a_pipe_are_refused(tmp_path: Path) -> None:
    """Neither is read, and a pipe that nobody writes to is not waited for."""
    with pytest.raises(ScenarioError, match="it is a folder"):
        read_yaml(tmp_path)
    os.mkfifo(tmp_path / "pipe.yaml")
    with pytest.raises(ScenarioError, match="not an ordinary file"):
        read_yaml(tmp_path / "pipe.yaml")


def test_a_name_with_a_zero_byte_is_refused() -> None:
    """The operating system's ValueError does not escape."""
    with pytest.raises(ScenarioError):
        read_yaml("a\0b.yaml")


def test_bytes_that_are_no_text_are_refused_with_their_line(tmp_path: Path) -> None:
    """A picture renamed to .yaml gets a sentence, not a traceback."""
    path = tmp_path / "junk.yaml"
    path.write_bytes(b"a: 1\nb: \xff\xfe\n")
    with pytest.raises(ScenarioError) as caught:
        read_yaml(path)
    assert str(caught.value) == f"{path}:2: it is not text: byte 8 is not UTF-8"


def test_a_file_beyond_the_limit_is_not_read(tmp_path: Path) -> None:
    """One byte too many is one too many; the limit itself is read."""
    path = tmp_path / "big.yaml"
    path.write_text("a: 1\n" + "#" * (LARGEST_BYTES - 5))
    assert read_yaml(path).data == {"a": 1}
    path.write_text("a: 1\n" + "#" * (LARGEST_BYTES - 4))
    with pytest.raises(ScenarioError, match="too large"):
        read_yaml(path)


def test_a_byte_order_mark_and_foreign_line_ends_do_no_harm(tmp_path: Path) -> None:
    """Files written on other systems are read."""
    path = tmp_path / "other.yaml"
    path.write_bytes(b"\xef\xbb\xbfa: 1\r\nb: 2\r\n")
    assert read_yaml(path).data == {"a": 1, "b": 2}


def test_what_was_read_is_nobody_elses(tmp_path: Path) -> None:
    """Documents are kept, since reading takes long: whoever alters his leaves that of the next alone, and another
    text under the same name is another document."""
    file = tmp_path / "gate.yaml"
    file.write_text("leaves: [{width_m: 2.0}]\n", encoding="utf-8")
    first = read_yaml(file)
    first.data["leaves"][0]["width_m"] = 3.0
    assert read_yaml(file).data == {"leaves": [{"width_m": 2.0}]}
    file.write_text("\nleaves: [{width_m: 2.5}]\n", encoding="utf-8")
    assert read_yaml(file).data == {"leaves": [{"width_m": 2.5}]}
    assert read_yaml(file).places[("leaves",)].line == 2
