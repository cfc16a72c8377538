"""What can be made again, kept for this user between runs: files written whole or not at all, the oldest let go."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

import platformdirs


def folder() -> Path:
    """Where it lies; it need not be there yet."""
    return Path(platformdirs.user_cache_path("gudgeon"))


def put(file: Path, data: bytes, most: int | None = None) -> None:
    """Write a file whole, or leave what was there. `most`: of files with its ending in its folder so many stay, those
    that were asked for last. Raises OSError where it can't be written."""
    file.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.NamedTemporaryFile(dir=file.parent, suffix=".part", delete=False) as fresh:
        beside = Path(fresh.name)
        try:
            fresh.write(data)
            fresh.flush()
            beside.replace(file)
        except BaseException:
            beside.unlink(missing_ok=True)
            raise
    if most is not None:
        for old in sorted(file.parent.glob(f"*{file.suffix}"), key=_asked_for, reverse=True)[most:]:
            old.unlink(missing_ok=True)


def touch(file: Path) -> None:
    """Note that a file was asked for. Raises OSError where that can't be noted."""
    os.utime(file)


def _asked_for(file: Path) -> float:
    """When a file was asked for last; one that another process let go meanwhile is the oldest of all."""
    try:
        return file.stat().st_mtime
    except FileNotFoundError:
        return 0.0
