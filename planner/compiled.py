"""The mark of a compiled loop, and what stands behind it.

A function marked `@compiled` is plain Python with a type for every argument. When the planner is
installed, all of them are compiled into one extension, `planner._loops`; the mark then puts the
compiled function in the place of the Python one. An extension that is missing, or older than a file
it was made from, is never used: it is said, with what to do about it.

With ``PLANNER_UNCOMPILED=1`` in the environment the same functions run as Python: some hundred
times slower, but a debugger, a coverage report or a mutation test sees every line.
"""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import cache
from hashlib import blake2b
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import ParamSpec, TypeVar, cast

from planner.errors import LoopsError

P = ParamSpec("P")
R = TypeVar("R")
T = TypeVar("T")

UNCOMPILED = "PLANNER_UNCOMPILED"
EXTENSION = "planner._loops"
REMEDY = ("Build them: pip install . (in a checkout: pip install -e .), or set "
          f"{UNCOMPILED}=1 to run them as plain Python, some hundred times slower.")


def compiled(function: Callable[P, R]) -> Callable[P, R]:
    """Put the compiled function in the place of a Python one.

    Raises
    ------
    LoopsError
        If the loops are not compiled, or not from the files beside them.
    """
    if os.environ.get(UNCOMPILED, "") not in {"", "0"}:
        return function
    name = f"{function.__module__}.{function.__name__}"
    found = getattr(loops(), name_in_extension(name), None)
    if found is None:
        message = (f"{name} is not among the compiled loops: they were built before it was "
                   f"written. {REMEDY}")
        raise LoopsError(message)
    return cast("Callable[P, R]", found)


def view(arrays: T) -> T:
    """Give what the compiled loops see of a named tuple of arrays, for loops alone to look at.

    It is made anew whenever a loop is called with the named tuple itself, which takes longer than
    many a loop. The arrays are the same.
    """
    if os.environ.get(UNCOMPILED, "") not in {"", "0"}:
        return arrays
    kind = type(arrays)
    made = getattr(loops(), f"View_{name_in_extension(f'{kind.__module__}.{kind.__name__}')}")
    return cast("T", made(arrays))


def name_in_extension(name: str) -> str:
    """Give the name of a compiled function, from that of the Python one with its module."""
    module, _, function = name.rpartition(".")
    return f"{module.partition('.')[2].replace('.', '_')}__{function}"


@cache
def loops() -> ModuleType:
    """Load the compiled loops, and see that they are those of the sources beside them.

    Raises
    ------
    LoopsError
        If they are not there, or older than a source.
    """
    here = Path(__file__).parent
    try:
        found = import_module(EXTENSION)
    except ImportError as problem:
        message = f"The loops of the planner are not compiled ({problem}). {REMEDY}"
        raise LoopsError(message) from problem
    if Path(found.__file__ or "").resolve().parent != here.resolve():
        message = f"The loops of the planner are not compiled (none beside it). {REMEDY}"
        raise LoopsError(message)
    old = changed(found.SOURCES, here)
    if old:
        message = f"The compiled loops are older than {', '.join(old)}. {REMEDY}"
        raise LoopsError(message)
    return found


def changed(sources: dict[str, str], package: Path) -> list[str]:
    """List the files under a package that are not those with these digests."""
    return [name for name, digest in sources.items()
            if not (package / name).exists()
            or blake2b((package / name).read_bytes(), digest_size=8).hexdigest() != digest]
