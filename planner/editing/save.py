"""Save a file whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path

from planner.case.text import read_text
from planner.editing.values import Change, Value, edited


def save_text(path: Path | str, text: str) -> None:
    """Write a file atomically: a reader sees the old text or the new, never half of one.

    Parameters
    ----------
    path : Path or str
        The file; its directory must exist.
    text : str
        Its new text, written as UTF-8 with its line ends as they are.

    Raises
    ------
    OSError
        The directory cannot be written to; the old file is untouched then.
    """
    path = Path(path)
    target = path.resolve()
    handle, temporary = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(text.encode("utf-8"))
            stream.flush()
            os.fsync(stream.fileno())
        mode = target.stat().st_mode & 0o777 if target.exists() else 0o644
        Path(temporary).chmod(mode)
        Path(temporary).replace(target)
    except BaseException:
        with suppress(OSError):
            Path(temporary).unlink()
        raise


def edit(path: Path | str, changes: Mapping[Change, Value | None]) -> None:
    """Change values in a file atomically, keeping its comments; see `edited`.

    Raises
    ------
    CaseError
        The file cannot be read, is not TOML, or a path leads nowhere; the file is untouched then.
    """
    path = Path(path)
    save_text(path, edited(read_text(path), changes, file=path.name))
