"""The kernel's two forms: interpreted from the start, compiled once `load()` has run. Same source, same bits.

The compiled form is kept on disk under a name made from the text of every file of this room and the compiler's
version, so that no change anywhere in the kernel can be missed.
"""

from __future__ import annotations

import hashlib
import os
import threading
import types
from collections.abc import Callable
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final, NamedTuple

import platformdirs

from sim.kernel import (
    advance,
    coasting,
    contact,
    induction,
    linkage,
    motion,
    recording,
    step,
    trigonometry,
    warming,
    watching,
    weather,
    winding,
)

_ROOM: Final = (
    trigonometry,
    induction,
    winding,
    contact,
    linkage,
    motion,
    warming,
    weather,
    watching,
    recording,
    step,
    coasting,
    advance,
)
"""Callees before callers."""


OPTIONS: Final = MappingProxyType({"error_model": "numpy", "nogil": True, "_nrt": False})
"""Strict arithmetic (no fast math, no contraction); no test for a zero divisor, as nothing here divides by one.
Nothing is allocated inside, so arrays are lent and not counted: counting them cost four fifths of a step. What every
step goes through is written out where it is called: handing arrays over cost a third of a step."""


class Forms(NamedTuple):
    """The kernel's front doors in one form."""

    advance: Callable[..., int]
    supply: Callable[..., float]
    is_compiled: bool


INTERPRETED: Final = Forms(advance.advance, winding.supply, False)

_forms = INTERPRETED
_lock = threading.Lock()


def forms() -> Forms:
    """The form in use now."""
    return _forms


def is_loaded() -> bool:
    """Whether the compiled form is in use."""
    return _forms.is_compiled


def load() -> bool:
    """Bring the compiled form into use; may be called from any thread, and again.

    Called once at the start of a headless run, or from a background thread behind a window. Returns False where
    the compiler isn't installed or is switched off (NUMBA_DISABLE_JIT); the interpreted form then stays in use.
    """
    global _forms
    with _lock:
        if _forms.is_compiled:
            return True
        try:
            import numba
        except ModuleNotFoundError:
            return False
        library: Any = numba
        if library.config.DISABLE_JIT:
            return False
        _forms = _compile(library)
        return True


def _compile(numba: Any) -> Forms:
    """Compile, or fetch from disk, every function of the room into one namespace of its own."""
    kept = _folder(numba)
    namespace: dict[str, Any] = {"__name__": step.__name__}
    for module in _ROOM:
        constants = {name: value for name, value in vars(module).items() if isinstance(value, (int, float))}
        namespace.update(constants, math=vars(module).get("math", namespace.get("math")))
    before = numba.config.CACHE_DIR
    numba.config.CACHE_DIR = str(kept) if kept else before
    try:
        for module in _ROOM:
            for function in module.COMPILED:
                is_hot = function in getattr(module, "HOT", ())
                namespace[function.__name__] = _compiled(numba, function, namespace, kept is not None, is_hot)
    finally:
        numba.config.CACHE_DIR = before
    return Forms(namespace["advance"], namespace["supply"], True)


def _compiled(numba: Any, function: Any, namespace: dict[str, Any], is_kept: bool, is_hot: bool) -> Any:
    copy = types.FunctionType(function.__code__, namespace, function.__name__)
    copy.__module__ = function.__module__
    copy.__qualname__ = function.__qualname__
    floats, whole = numba.types.float64[::1], numba.types.int64[::1]
    integer, real = numba.types.int64, numba.types.float64
    signatures = {
        "advance": integer(*[floats] * 8, whole, integer),
        "supply": real(floats, floats, integer),
    }
    door = signatures.get(function.__name__)
    if door is None:
        return numba.njit(forceinline=is_hot, no_cpython_wrapper=True, no_cfunc_wrapper=True, **OPTIONS)(copy)
    return numba.njit(door, cache=is_kept, **OPTIONS)(copy)


def _folder(numba: Any) -> Path | None:
    """Where this very kernel is kept; None where nothing can be written, and then it is compiled every time."""
    text = hashlib.blake2b(numba.__version__.encode(), digest_size=12)
    for path in sorted(Path(__file__).parent.glob("*.py")):
        text.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    root = Path(numba.config.CACHE_DIR or platformdirs.user_cache_path("gudgeon"))
    folder = root / f"kernel-{text.hexdigest()}"
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return folder if os.access(folder, os.W_OK) else None
