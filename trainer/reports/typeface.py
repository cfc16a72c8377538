"""The shipped typeface and the colours of the sheet, as a page and a plot need them."""

from __future__ import annotations

import base64
from functools import cache
from pathlib import Path
from typing import Final

PAPER: Final = "#F4EFE4"
SHEET: Final = "#FBF8F1"
INK: Final = "#22303C"
SOFT: Final = "#5E6A75"
RULE: Final = "#CFC6B4"
CLEAR: Final = "#1B7F79"
WIRE: Final = "#3B5B92"
DANGER: Final = "#B3402A"
AMBER: Final = "#8F5A08"
BLUSH: Final = "#F6E6DF"
"""The drawing's palette: one red for danger, one green-blue for clear, one blue for wiring. Soft ink and amber are a
shade darker than on the screen, so that small print on paper keeps a contrast of 4.5 to 1."""

FAMILY: Final = "Sheet B612"
"""A name of our own, so that a copy of the typeface on the reader's machine can't be taken for the shipped one: some
give their fixed-width face the same name."""

FACES: Final = {
    "regular": (FAMILY, 400, "B612-Regular.otf"),
    "bold": (FAMILY, 700, "B612-Bold.otf"),
}
"""Name: (family, weight, file)."""


def font_files() -> dict[str, Path]:
    """The shipped fonts, by the names of `FACES`; beside the source, or inside an installed package."""
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "_installed" / "assets" / "fonts", package.parent / "assets" / "fonts"):
        if folder.is_dir():
            return {name: folder / file for name, (_, _, file) in FACES.items()}
    raise FileNotFoundError(f"{package.parent / 'assets' / 'fonts'}: the shipped fonts are not there")


@cache
def font_face_rules() -> str:
    """Style rules that carry the fonts inside the page, so that it looks the same anywhere."""
    files = font_files()
    rules = []
    for name, (family, weight, _) in FACES.items():
        data = base64.b64encode(files[name].read_bytes()).decode("ascii")
        rules.append(
            f"@font-face{{font-family:'{family}';font-weight:{weight};"
            f"src:url(data:font/otf;base64,{data}) format('opentype')}}"
        )
    return "\n".join(rules)
