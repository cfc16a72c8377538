"""Where the files that are shipped with the window lie: beside the packages, or inside the installed one."""

from __future__ import annotations

from pathlib import Path


def assets() -> Path:
    """The folder `assets`. Raises FileNotFoundError when it is in neither place."""
    package = Path(__file__).resolve().parents[1]
    for folder in (package.parent / "assets", package / "_installed" / "assets"):
        if (folder / "fonts").is_dir():
            return folder
    raise FileNotFoundError(f"the folder 'assets' is neither beside {package} nor inside it")
