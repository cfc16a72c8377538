"""The shape of the house: short files with one subject, words spelled out, nothing that belongs elsewhere.

Each rule is a function from a file's text (or a tree's names) to the places that break it, and each is shown to
find a planted breach, so that none of them passes by looking away.
"""

from __future__ import annotations

import ast
import re
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "LICENSE",
    "pyproject.toml",
    "sim",
    "trainer",
    "scenarios",
    "tests",
    "assets",
}
"""What the top level holds beside dot-files."""

SIM_ROOMS = {
    "site",
    "kernel",
    "wiring",
    "mechanics",
    "devices",
    "controller",
    "faults",
    "world",
    "traces",
    "instruments",
    "bench",
}
TRAINER_ROOMS = {"job", "session", "diagnosis", "grading", "drills", "records", "reports", "window", "cli"}

MOST_LINES = 400
"""A file longer than this has more than one subject."""

MOST_CODE_LINES = 50
MOST_KERNEL_LINES = 80
"""A function's code lines (see `code_lines`); the numeric kernel may need more."""

BASEMENTS = {"util", "utils", "helper", "helpers", "manager", "managers", "common", "misc", "lib"}

NOT_TERMINALS = {
    "B612": "the typeface",
    "UTF8": "an encoding",
    "SHA1": "a digest",
    "MD5": "a digest",
    "A4": "a paper size",
    "IP4": "an address family",
}
"""Words of letters and digits that name no terminal; function keys are allowed by pattern."""

TERMINAL_NAME = re.compile(r"(?<![\w#&\\-])[A-Z]{1,3}[0-9]{1,2}(?![\w-])")


def tracked() -> list[Path]:
    """Every file under version control; where there is no repository, every file that isn't a by-product."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode == 0 and listed.stdout:
        return [ROOT / name for name in listed.stdout.split("\0") if name and (ROOT / name).is_file()]
    made = {".git", "__pycache__", "build", "dist", "gudgeon-out", "htmlcov"}
    return [
        path
        for path in ROOT.rglob("*")
        if path.is_file()
        and not made & set(path.relative_to(ROOT).parts)
        and not path.relative_to(ROOT).parts[0].startswith((".venv", ".mypy", ".ruff", ".pytest", ".coverage"))
        and not any(part.endswith(".egg-info") for part in path.parts)
    ]


def sources(*tops: str) -> list[Path]:
    """Python files under the given top folders."""
    return sorted(path for top in tops for path in (ROOT / top).rglob("*.py") if "__pycache__" not in path.parts)


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def text_of(path: Path) -> str | None:
    """The file as text, or None for a picture, a font or a sound."""
    try:
        return path.read_text(encoding="utf-8")
    except UnicodeDecodeError:
        return None


# rules: text in, breaches out


def functions(tree: ast.AST) -> Iterator[ast.FunctionDef | ast.AsyncFunctionDef]:
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            yield node


def is_prose(node: ast.stmt) -> bool:
    """A string that stands alone: the docstring of a function, of an attribute, of a constant."""
    return isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant) and isinstance(node.value.value, str)


def fills_a_record(node: ast.stmt) -> bool:
    """A `return` of one call that only names fields: long because the record is, and nothing happens in it."""
    if not isinstance(node, ast.Return) or not isinstance(node.value, ast.Call):
        return False
    call = node.value
    return not call.args and all(keyword.arg is not None for keyword in call.keywords)


def code_lines(function: ast.FunctionDef | ast.AsyncFunctionDef, lines: list[str]) -> int:
    """Lines from `def` to the end, less prose, blank lines and comments; a filled record is one line."""
    left_out: set[int] = set()
    for node in ast.walk(function):
        if isinstance(node, ast.stmt):
            span = range(node.lineno, (node.end_lineno or node.lineno) + 1)
            if is_prose(node):
                left_out |= set(span)
            elif fills_a_record(node):
                left_out |= set(span[1:])
    body = range(function.lineno, (function.end_lineno or function.lineno) + 1)
    kept = (lines[n - 1].strip() for n in body if n not in left_out)
    return sum(1 for line in kept if line and not line.startswith("#"))


def long_functions(text: str, most: int) -> list[str]:
    lines = text.splitlines()
    counted = [(f.name, code_lines(f, lines)) for f in functions(ast.parse(text))]
    return [f"{name} has {count} code lines" for name, count in counted if count > most]


def public_without_docstring(text: str) -> tuple[list[str], int]:
    """Public functions and classes of a module that have no docstring, and how many public ones there are.

    Protocol stubs and overloads count too; a nested function, a dunder and a property setter do not.
    """
    bare: list[str] = []
    count = 0

    def look(body: list[ast.stmt], place: str) -> None:
        nonlocal count
        for node in body:
            if not isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef, ast.ClassDef)):
                continue
            if node.name.startswith("_") or any(ast.unparse(d).endswith(".setter") for d in node.decorator_list):
                continue
            count += 1
            if ast.get_docstring(node) is None:
                bare.append(f"{place}{node.name}")
            if isinstance(node, ast.ClassDef):
                look(node.body, f"{place}{node.name}.")

    look(ast.parse(text).body, "")
    return bare, count


def faulty_branches(text: str) -> list[str]:
    """Conditions that ask whether something is faulty: a fault changes a fact, it is never a branch."""
    asked = (ast.If, ast.IfExp, ast.While)
    found = []
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, asked):
            words = {n.id for n in ast.walk(node.test) if isinstance(n, ast.Name)}
            words |= {n.attr for n in ast.walk(node.test) if isinstance(n, ast.Attribute)}
            if any(re.search(r"(^|_)(faulty|is_fault|has_fault|fault_active|broken_by)", w) for w in words):
                found.append(f"line {node.lineno}: {ast.unparse(node.test)}")
    return found


def terminal_names(text: str) -> list[str]:
    """Letter-and-number names in the strings of a module; docstrings may cite a source by such a name."""
    tree = ast.parse(text)
    prose = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr) and is_prose(node)}
    return [
        f"line {node.lineno}: {word}"
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in prose
        for word in shown_terminal_names(node.value)
    ]


def shown_terminal_names(shown: str) -> list[str]:
    return [w for w in TERMINAL_NAME.findall(shown) if w not in NOT_TERMINALS and not re.fullmatch(r"F\d{1,2}", w)]


def machine_paths(text: str) -> list[str]:
    """Absolute paths of one machine, and hosts of package registries."""
    folders = "|".join(("work", "root", "home", "Users", "opt", "mnt"))
    hosts = "|".join((r"pypi\.org", r"pythonhosted\.org", r"deb\.debian\.org", r"registry\.npmjs"))
    pattern = re.compile(rf"(?<![\w.~<}}/-])/(?:{folders})/[A-Za-z0-9_.]|{hosts}")
    return [f"line {n}: {line.strip()[:80]}" for n, line in enumerate(text.splitlines(), 1) if pattern.search(line)]


def outside_the_plan(names: list[str]) -> list[str]:
    """Top-level names that are neither dot-files nor on the plan."""
    return sorted({n.split("/")[0] for n in names} - TOP_LEVEL - {n.split("/")[0] for n in names if n[0] == "."})


# the rules can fail


@pytest.mark.parametrize(
    ("rule", "breach", "innocent"),
    [
        (faulty_branches, "if beam.is_faulty:\n    x = 1\n", "if beam.tripped:\n    x = 1\n"),
        (faulty_branches, "x = 1 if faulty else 2\n", "faults = [f for f in plan if f.due]\n"),
        (terminal_names, 'NAME = "X12"\n', 'NAME = "outer beam, common"\n'),
        (terminal_names, 'label(f"terminal J4 {n}")\n', '"""Facts C62."""\nFONT = "B612 Mono"\nKEY = "F12"\n'),
        (machine_paths, "see /ho" "me/ada/gate.yaml\n", "see scenarios/sites/gate.yaml\n"),
        (machine_paths, "pip install -i https://py" "pi.org/simple\n", "https://example.invalid/home/ada\n"),
        (lambda t: long_functions(t, 3), "def f():\n    a = 1\n    b = 2\n    c = 3\n", "def f():\n    return 1\n"),
        (lambda t: long_functions(t, 2), "def f():\n    a = 1\n    b = 2\n", 'def f():\n    """A."""\n    # c\n'),
        (
            lambda t: long_functions(t, 3),
            "def f():\n    return R(\n        1,\n        2,\n    )\n",
            "def f():\n    return R(\n        a=1,\n        b=2,\n    )\n",
        ),
        (lambda t: public_without_docstring(t)[0], "def f():\n    pass\n", 'def f():\n    """Does."""\n'),
        (lambda t: public_without_docstring(t)[0], "class A:\n    def b(self): ...\n", "def _f():\n    pass\n"),
        (lambda t: outside_the_plan(t.split()), "sim/units.py docs/notes.md", "sim/units.py .ci/run README.md"),
    ],
)  # fmt: skip
def test_each_rule_finds_a_planted_breach(rule, breach: str, innocent: str) -> None:
    """A rule reports what it forbids and leaves its neighbour alone."""
    assert rule(breach)
    assert not rule(innocent)


# the house keeps them


def test_top_level_holds_only_what_the_plan_names() -> None:
    """Beside dot-files the top level is front page, guide, licence, project file and the five folders."""
    assert outside_the_plan([named(path) for path in tracked()]) == []


def test_every_room_of_the_plan_stands() -> None:
    """Each folder of the plan is a package with a docstring that says what it is for; there is no other."""
    for package, rooms in (("sim", SIM_ROOMS), ("trainer", TRAINER_ROOMS)):
        found = {path.parent.name for path in (ROOT / package).glob("*/__init__.py")}
        assert found == rooms
        for room in rooms | {""}:
            front = ROOT / package / room / "__init__.py"
            assert ast.get_docstring(ast.parse(front.read_text(encoding="utf-8"))), named(front)


def test_files_are_short() -> None:
    """No Python file outgrows one subject."""
    lengths = {named(p): len(p.read_text(encoding="utf-8").splitlines()) for p in sources("sim", "trainer", "tests")}
    assert {name: length for name, length in lengths.items() if length > MOST_LINES} == {}


def test_functions_fit_a_screen() -> None:
    """No function is longer than a screen; the kernel's may be a little longer."""
    found = {}
    for path in sources("sim", "trainer"):
        most = MOST_KERNEL_LINES if path.is_relative_to(ROOT / "sim/kernel") else MOST_CODE_LINES
        if breaches := long_functions(path.read_text(encoding="utf-8"), most):
            found[named(path)] = breaches
    assert found == {}


def test_no_basement() -> None:
    """Files and folders are named for what is in them."""
    names = {part for p in sources("sim", "trainer", "tests") for part in (p.stem, *p.relative_to(ROOT).parts[:-1])}
    assert {n for n in names if set(n.split("_")) & BASEMENTS} == set()


def test_modules_say_what_they_are() -> None:
    """Every module opens with a docstring, the tests' included."""
    bare = [
        named(p)
        for p in sources("sim", "trainer", "tests")
        if ast.get_docstring(ast.parse(p.read_text(encoding="utf-8"))) is None
    ]
    assert bare == []


def test_public_names_say_what_they_do() -> None:
    """Nine of ten public functions and classes have a docstring."""
    bare: list[str] = []
    count = 0
    for path in sources("sim", "trainer"):
        missing, public = public_without_docstring(path.read_text(encoding="utf-8"))
        bare += [f"{named(path)}: {name}" for name in missing]
        count += public
    assert len(bare) <= count * 0.1, "\n".join(bare)


def test_tests_state_their_law() -> None:
    """Eight of ten tests have a docstring that states the law under test."""
    every = [
        (named(path), f)
        for path in sources("tests")
        for f in functions(ast.parse(path.read_text(encoding="utf-8")))
        if f.name.startswith("test_")
    ]
    bare = [f"{file}: {f.name}" for file, f in every if ast.get_docstring(f) is None]
    assert len(bare) <= len(every) * 0.2, "\n".join(bare)


def test_no_branch_asks_for_a_fault() -> None:
    """A fault changes one physical fact; no part and no controller asks whether it is faulty."""
    found = {named(p): b for p in sources("sim") if (b := faulty_branches(p.read_text(encoding="utf-8")))}
    assert found == {}


def test_no_letter_and_number_names_in_code() -> None:
    """Terminals, settings and messages are plain words."""
    found = {named(p): b for p in sources("sim", "trainer") if (b := terminal_names(p.read_text(encoding="utf-8")))}
    assert found == {}


def test_no_letter_and_number_names_in_scenarios() -> None:
    """Sites, jobs and drills are written in plain words as well."""
    found = {}
    for path in sorted((ROOT / "scenarios").rglob("*.yaml")):
        told = "\n".join(line.split(" #")[0] for line in path.read_text(encoding="utf-8").splitlines())
        if words := shown_terminal_names(told):
            found[named(path)] = words
    assert found == {}


def test_no_path_of_one_machine() -> None:
    """Nothing tracked names a folder of somebody's machine or the host of a package registry."""
    found = {}
    for path in tracked():
        text = text_of(path)
        if text is not None and (breaches := machine_paths(text)):
            found[named(path)] = breaches
    assert found == {}
