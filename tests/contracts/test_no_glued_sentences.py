"""No sentence for a person is glued together from pieces, or no other language could order its words for itself.

Looked for where a person in front of the window is spoken to and the sentence is made below the window: an f-string
with words in it. Sentences with gaps are said with `said()`.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
ROOMS = ("session", "grading", "job", "drills", "records", "reports", "diagnosis")

NOT_SPOKEN = {
    "drills/run.py": "a drill's result on the console",
    "grading/checks/catalogue.py": "a catalogue that was written wrongly",
    "grading/safety/catalogue.py": "a catalogue that was written wrongly",
    "grading/grade.py": "a grade or a model that no job can name",
    "grading/guide.py": "a check that no job can name",
    "job/counterexample.py": "a job that is written to a file on the console",
    "job/models.py": "a job that was made without its reader",
    "reports/drawing.py": "markup",
    "reports/state_chart.py": "a drawing made on the console",
    "reports/typeface.py": "markup, and an installation without its fonts",
    "session/desk.py": "the name of a controller in a journal",
}
"""Files with f-strings that have words, and whom or what those are for."""

WORDS = re.compile(r"[a-z]{2,},? [a-z]{2,}")


def glued(source: str) -> Iterator[str]:
    """The words of every f-string that has some beside each other."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.JoinedStr):
            written = [each.value for each in node.values if isinstance(each, ast.Constant)]
            words = "".join(str(each) for each in written)
            if WORDS.search(words):
                yield words


def test_no_sentence_is_glued() -> None:
    """One that is planted is found; whoever is excused has a reason that still holds."""
    assert list(glued('told = f"the {guard} was left bridged"')) == ["the  was left bridged"]
    assert list(glued('told = said("the {guard} was left bridged", guard=f"{leaf} edge")')) == []
    found = {
        str(path.relative_to(ROOT / "trainer")): told
        for room in ROOMS
        for path in sorted((ROOT / "trainer" / room).rglob("*.py"))
        if (told := list(glued(path.read_text(encoding="utf-8"))))
    }
    assert {file: told for file, told in found.items() if file not in NOT_SPOKEN} == {}
    assert sorted(set(NOT_SPOKEN) - set(found)) == []
