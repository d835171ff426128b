"""Compiling: the one decorator that turns a plain function into a compiled kernel function.

The compiler's disk cache does not notice a change in a function that another file's kernel calls,
so the cache folder is named by the content of every kernel source: change one and all are fresh.
"""

from __future__ import annotations

import hashlib
import importlib
import os
import sys
import tempfile
from collections.abc import Callable
from pathlib import Path
from types import ModuleType
from typing import Any, TypeVar, cast


def _compiler() -> Any:
    """Import the compiler without scipy, which it tries for linear algebra no kernel here has.

    Where scipy is installed it would add half to the time of a first result.
    """
    if "scipy" in sys.modules:
        return importlib.import_module("numba")
    sys.modules["scipy"] = cast(ModuleType, None)
    try:
        importlib.import_module("numba.np.arraymath")
        return importlib.import_module("numba")
    finally:
        del sys.modules["scipy"]


numba = _compiler()

F = TypeVar("F", bound=Callable[..., object])

_KERNEL_SOURCES = (
    "physics/compiled.py",
    "physics/pack/cell_step.py",
    "physics/drive/drive_step.py",
    "physics/circuit/thermal_step.py",
    "simulate/*.py",
)


_OPTIONS: dict[str, Any] = {
    "cache": True,
    "nogil": True,
    "error_model": "numpy",
    "fastmath": {"contract"},
    "no_cfunc_wrapper": True,
    "_nrt": False,
}


def _source_mark() -> str:
    package = Path(__file__).resolve().parent.parent
    digest = hashlib.sha256(numba.__version__.encode())
    for pattern in _KERNEL_SOURCES:
        for path in sorted(package.glob(pattern)):
            digest.update(path.read_bytes())
    return digest.hexdigest()[:12]


def _cache_folder() -> Path:
    """Return a folder we may write to: the user's cache, or a private temporary one."""
    cache = os.environ.get("XDG_CACHE_HOME") or Path("~/.cache").expanduser()
    mark = _source_mark()
    wanted = Path(cache) / "swapwright" / f"kernels-{mark}"
    try:
        wanted.mkdir(parents=True, exist_ok=True)
        if os.access(wanted, os.W_OK):
            return wanted
    except OSError:
        pass
    private = Path(tempfile.gettempdir()) / f"swapwright-{os.getuid()}"
    private.mkdir(mode=0o700, exist_ok=True)
    return private / f"kernels-{mark}"


if not os.environ.get("NUMBA_CACHE_DIR"):
    numba.config.CACHE_DIR = str(_cache_folder())


def is_prepared() -> bool:
    """Tell whether compiled kernels of this release are on disk already."""
    return any(Path(numba.config.CACHE_DIR).rglob("*.nbi"))


def kernel(function: F) -> F:
    """Compile a function of numbers, arrays and named tuples; its plain form stays as ``py_func``.

    Compiled lazily at the first call, cached on disk, and run with the interpreter lock released.
    Kernels only look at arrays, never make them, so the counting of references is off: with it the
    time step ran several times slower. A product may be fused with the sum that takes it, which
    rounds once less; no other liberty is taken with the arithmetic.
    """
    return cast(F, numba.njit(**_OPTIONS)(function))


def inlined(function: F) -> F:
    """Compile as `kernel` does, and always inline into the kernel that calls it.

    Named tuples of many fields are passed field by field: a call on the hot path costs more than
    the work it does. Only kernels can call it; leaving out what the interpreter would need to do
    so halves the time to compile.
    """
    return cast(F, numba.njit(forceinline=True, no_cpython_wrapper=True, **_OPTIONS)(function))
