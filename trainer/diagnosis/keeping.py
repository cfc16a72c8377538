"""Tables of sites kept between runs: by what a site's file holds and by the source of everything that makes a table.

They lie in the user's folder for what can be made again, one file for each, written whole or not at all. A file that
can't be read is told of, thrown away and made anew; of many, those that nobody asked for longest go.
"""

from __future__ import annotations

import contextlib
import functools
import hashlib
import json
import zipfile
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Final

import numpy as np

import sim
from sim.faults.entry import Fault
from sim.said import said
from sim.site import Site, site_digest
from trainer import kept
from trainer.diagnosis import site_table
from trainer.diagnosis.site_table import SiteTable, Told

MOST_TABLES: Final = 60
"""Tables kept; each is well below a megabyte."""

FORMAT: Final = "gudgeon-table/1"

MAKERS: Final = ("classes.py", "costs.py", "keeping.py", "priors.py", "site_table.py", "table.py")
"""The files of this room that a table hangs on."""

Heard = Callable[[str], None]
"""Told in a sentence what was wrong with something kept."""


def tables_folder() -> Path:
    """Where tables are kept for this user."""
    return kept.folder() / "tables"


@dataclass(frozen=True)
class Tables:
    """The tables of sites, made where they aren't kept yet."""

    folder: Path = field(default_factory=tables_folder)
    heard: Heard = print
    """Told when a file that was kept is no good."""

    def find(self, site: Site) -> SiteTable | None:
        """The table of a site if it is kept."""
        file = self._file(site)
        try:
            found = _read(file)
            kept.touch(file)
        except (FileNotFoundError, NotADirectoryError):
            return None
        except (OSError, EOFError, ValueError, KeyError, zipfile.BadZipFile) as error:
            self.heard(said("{file}: what was kept is damaged ({error}); it is made anew", file=file, error=error))
            _thrown_away(file)
            return None
        return found

    def get(self, site: Site, told: Told | None = None, faults: Sequence[Fault] = ()) -> SiteTable:
        """The table of a site, made and kept if it isn't yet. `faults`: causes, all that fit where none is given; a
        table of some only is made each time.

        Raises CannotLearn where the gate can't run. A folder that can't be written is no error: it is made each time.
        """
        if faults:
            return site_table.make(site, faults, told)
        found = self.find(site)
        if found is None:
            found = site_table.make(site, told=told)
            self.keep(site, found)
        return found

    def keep(self, site: Site, made: SiteTable) -> None:
        """Write a table whole or not at all, and let go of the oldest beyond the most."""
        file = self._file(site)
        try:
            kept.put(file, _written(made), MOST_TABLES)
        except OSError as error:
            self.heard(said("{file}: can't be kept ({error}); it is made each time", file=file, error=error))

    def _file(self, site: Site) -> Path:
        text = hashlib.blake2b(f"{FORMAT}\0{source_digest()}\0{site_digest(site)}".encode(), digest_size=16)
        return self.folder / f"{text.hexdigest()}.npz"


@functools.cache
def source_digest() -> str:
    """Fingerprint of the source that a table hangs on: the simulator, its catalogue of faults, and what makes tables
    of them; not what only reads tables."""
    text = hashlib.blake2b(np.__version__.encode(), digest_size=16)
    root, here = Path(sim.__file__).parent, Path(__file__).parent
    for path in (*sorted(root.rglob("*.py")), *(here / name for name in MAKERS)):
        above = root if path.is_relative_to(root) else here
        text.update(path.relative_to(above).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return text.hexdigest()


def _thrown_away(file: Path) -> None:
    """Away with it if it is there; what can't be thrown away is told of again the next time."""
    with contextlib.suppress(OSError):
        file.unlink()


def _written(made: SiteTable) -> bytes:
    """What a file holds."""
    words = {
        "format": FORMAT,
        "causes": made.causes,
        "columns": made.columns,
        "units": made.units,
        "texts": made.texts,
    }
    raw = np.frombuffer(json.dumps(words, ensure_ascii=False).encode(), dtype=np.uint8)
    arrays = {"shown": made.shown.astype(np.int32), "classed": made.classed.astype(np.int16)}
    out = BytesIO()
    np.savez_compressed(out, words=raw, **arrays)  # type: ignore[arg-type]
    return out.getvalue()


def _read(file: Path) -> SiteTable:
    """What is kept in a file. Raises OSError, ValueError, KeyError or BadZipFile if it isn't what was written."""
    with file.open("rb") as raw, np.load(raw, allow_pickle=False) as arrays:
        words = json.loads(arrays["words"].tobytes())
        if words["format"] != FORMAT:
            raise ValueError(words["format"])
        shown, classed = arrays["shown"], arrays["classed"]
    causes, columns = tuple(words["causes"]), tuple(tuple(each) for each in words["columns"])
    if not shown.shape == classed.shape == (len(causes), 2, len(columns)):
        raise ValueError(shown.shape)
    if shown.size and not 0 <= shown.min() <= shown.max() < len(words["texts"]):
        raise ValueError(int(shown.max()))
    return SiteTable(
        causes,
        columns,
        tuple(words["units"]),
        tuple(words["texts"]),
        shown.astype(np.int64),
        classed.astype(np.int64),
    )
