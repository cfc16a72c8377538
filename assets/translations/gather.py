"""Gathers every sentence of the window and brings the catalogues of its languages up to date.

    python assets/translations/gather.py            gather, and merge into every catalogue
    python assets/translations/gather.py --compile  and write those that are complete as the window reads them

Sentences stand in calls of `_()`, `said()` and of what takes a sentence (`SAYING`), in the templates of reports, in
what describes itself (actions, settings, checks, rules, keys, tour, glossary), and in the scenarios that are shipped,
where whoever shows them translates what it is given. A catalogue with a gap is not written for the window: half a
language is none.
"""

from __future__ import annotations

import ast
import re
import sys
import tomllib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

sys.path.insert(0, str(Path(__file__).parent))
import of_sim
import of_trainer

ROOT = Path(__file__).resolve().parents[2]
WINDOW = ROOT / "trainer" / "window"
SPEAKING = ("sim", "trainer")
SAYING = {
    "_": 1,
    "said": 1,
    "of_leaves": 2,
    **dict.fromkeys(("passed", "marginal", "not_yet", "stale", "failed", "not_applicable", "breach"), 1),
}
"""Calls whose first argument, or first ones, are sentences; each may choose between two."""

TRANSLATIONS = ROOT / "assets" / "translations"
LANGUAGES = ("es", "it")
LISTS = {
    "tour/stops.py": ("STOPS",),
    "screens/keys.py": ("KEYS",),
    "controls.py": ("TOLD", "WIRED", "BODIES"),
    "folder/acceptance.py": ("SIGNS",),
    "folder/folder.py": ("PAGES", "TOLD"),
    "folder/force_plan.py": ("VERDICTS",),
    "folder/notebook.py": ("WORDS", "CHANGE"),
    "folder/repair.py": ("SECTIONS",),
    "preferences.py": ("Who", "Contrast", "Colours"),
    "screens/benchwork.py": ("COMMANDS",),
    "screens/debrief.py": ("LOOKS",),
    "screens/freeyard.py": ("GRAVITY", "FOUND"),
    "screens/frontdesk.py": ("CAUTION", "PAGES"),
    "screens/joblist.py": ("MODES", "STATES"),
    "screens/recap.py": ("SIGNS",),
    "strip/panel.py": ("SPANS",),
    "words.py": ("ACTIONS",),
}
"""Files of the window in which sentences stand in a list, and what the list is called."""

CONSOLE = "gudgeon "
"""What begins so is typed at a console, and the same in every language."""

Found = Iterator[tuple[str, str]]
"""(sentence, where it stands)."""


def in_calls() -> Found:
    """Sentences in calls of `_()` and `said()`, one or several to choose from."""
    for path in sorted(path for folder in SPEAKING for path in (ROOT / folder).rglob("*.py")):
        if "canned" in path.parts:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                for given in node.args[: SAYING.get(called(node.func), 0)]:
                    for sentence in chosen_from(given):
                        yield sentence, f"{path.relative_to(ROOT)}:{node.lineno}"


def called(func: ast.expr) -> str:
    """The name of what is called, of a method too."""
    return func.id if isinstance(func, ast.Name) else func.attr if isinstance(func, ast.Attribute) else ""


def chosen_from(given: ast.expr) -> Iterator[str]:
    """The sentences that an argument may be: itself, or both sides of a choice."""
    if isinstance(given, ast.IfExp):
        yield from chosen_from(given.body)
        yield from chosen_from(given.orelse)
    elif isinstance(given, ast.Constant) and isinstance(given.value, str):
        yield given.value


def in_lists() -> Found:
    """Sentences in lists that are translated when they are shown."""
    for name, lists in LISTS.items():
        for node in ast.parse((WINDOW / name).read_text(encoding="utf-8")).body:
            targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
            if not any(named in lists for target in targets if target for named in names_in(target)):
                continue
            written = (each.value for each in ast.walk(node) if isinstance(each, ast.Constant))
            for text in written:
                if isinstance(text, str) and re.search(r"[^\W\d_]", text) and not text.startswith(CONSOLE):
                    yield text, f"trainer/window/{name}"


def names_in(target: ast.expr) -> Iterator[str]:
    """Names that are given a value: one, or several at once."""
    return (each.id for each in ast.walk(target) if isinstance(each, ast.Name))


def in_entries() -> Found:
    """What actions and settings say of themselves, and the words of the trade."""
    from sim.controller.settings import CATALOGUE as SETTINGS
    from sim.world.actions import CATALOGUE as ACTIONS
    from trainer.window.form import plain_name

    for kind, action in ACTIONS.items():
        for said in (kind, action.help, action.caution):
            yield said, f"action {kind}"
        for argument in action.arguments:
            for said in (plain_name(argument.name), argument.help, *map(str, argument.choices)):
                yield said, f"action {kind}"
    for setting in SETTINGS.values():
        for said in (setting.name, setting.help, setting.group, setting.unit, *map(str, setting.choices)):
            yield said, f"setting {setting.name}"
    words = tomllib.loads((ROOT / "assets" / "glossary" / "words.toml").read_text(encoding="utf-8"))
    for group in words["group"]:
        yield group["name"], "glossary"
        for word in group["word"]:
            yield word["name"], "glossary"
            yield word["text"], "glossary"


def empty(code: str | None = None) -> Catalog:
    """A catalogue with nothing in it. It bears no date and no name, so that gathering anew changes nothing."""
    settled = datetime(2026, 1, 1, tzinfo=UTC)
    return Catalog(
        locale=code,
        header_comment="# Sentences of the window of Gudgeon.",
        project="Gudgeon",
        version="1",
        msgid_bugs_address="none",
        last_translator="Gudgeon",
        language_team="Gudgeon",
        creation_date=settled,
        revision_date=settled,
        fuzzy=False,
    )


def gathered() -> Catalog:
    """Every sentence once, with the places it stands at."""
    catalogue = empty()
    for source in (in_calls, in_lists, in_entries, *of_sim.SOURCES, *of_trainer.SOURCES):
        for sentence, place in source():
            if sentence.strip() and not sentence.replace(".", "").isdigit():
                catalogue.add(sentence, locations=[(place, 0)])
    return catalogue


def bring_up(code: str, fresh: Catalog, *, compiles: bool) -> str:
    """Merge what was gathered into the catalogue of a language; answers how it stands, in a sentence."""
    folder = TRANSLATIONS / code / "LC_MESSAGES"
    file = folder / "gudgeon.po"
    folder.mkdir(parents=True, exist_ok=True)
    catalogue = empty(code)
    if file.exists():
        with file.open("rb") as source:
            catalogue = read_po(source, locale=code)
    catalogue.update(fresh, no_fuzzy_matching=True)
    with file.open("wb") as into:
        write_po(
            into,
            catalogue,
            sort_output=True,
            ignore_obsolete=True,
            omit_header=False,
            width=118,
            include_lineno=False,
        )
    missing = [message.id for message in catalogue if message.id and not message.string]
    if compiles and not missing:
        with (folder / "gudgeon.mo").open("wb") as into:
            write_mo(into, catalogue)
    return f"{code}: {len(catalogue)} sentences, {len(missing)} to be translated"


def main() -> None:
    """Bring every catalogue up to date and say how each stands."""
    fresh = gathered()
    for code in LANGUAGES:
        print(bring_up(code, fresh, compiles="--compile" in sys.argv[1:]))


if __name__ == "__main__":
    main()
