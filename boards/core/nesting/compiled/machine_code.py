"""How a function is compiled, and where the machine code is kept until a source of it changes."""

import hashlib
import os
import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numba
from numba.core import config

HERE = Path(__file__).parent


def kept_at() -> Path:
    """The folder for the machine code of these very sources.

    numba looks at the one file a function stands in and not at those it calls, hence a folder for each state
    of all files. It lies beside the sources, or among the temporary files where those cannot be written.
    """
    told = os.environ.get("NUMBA_CACHE_DIR")
    if told:
        return Path(told)
    text = b"".join(path.read_bytes() for path in sorted(HERE.glob("*.py")))
    name = f"compiled-{numba.__version__}-{hashlib.sha256(text).hexdigest()[:12]}"
    try:
        folder = HERE / "__pycache__"
        folder.mkdir(exist_ok=True)
        for old in folder.glob("compiled-*"):
            if old.name != name:
                shutil.rmtree(old, ignore_errors=True)
        (folder / name).mkdir(exist_ok=True)
        return folder / name
    except OSError:
        return Path(tempfile.gettempdir()) / f"housing-{name}"


vars(config)["CACHE_DIR"] = str(kept_at())


def compiled(function: Callable[..., Any]) -> Any:
    """The function as machine code, made at its first call and then kept; it lets other threads run."""
    return numba.njit(cache=True, nogil=True)(function)


def inlined(function: Callable[..., Any]) -> Any:
    """A small function written into each that calls it."""
    return numba.njit(inline="always")(function)
