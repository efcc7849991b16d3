"""A meter's file, whatever its form."""

from __future__ import annotations

from pathlib import Path

from planner.importing.content import opened
from planner.importing.meter.espi import read_espi
from planner.importing.meter.measured import Measured, measured_of
from planner.importing.meter.record import MOST_BYTES
from planner.importing.meter.table import read_table

_BEGINNING = 64  # bytes, enough for a mark and blanks


def read_meter(path: Path) -> Measured:
    """Read a meter's file: Green Button XML, else a table of intervals.

    Parameters
    ----------
    path : Path
        The file; what it is, its content says and not its name.

    Raises
    ------
    CaseError
        It cannot be read as either, or holds no demand.
    """
    with opened(path, MOST_BYTES) as stream:
        beginning = stream.read(_BEGINNING)
    is_xml = beginning.removeprefix(b"\xef\xbb\xbf").lstrip()[:1] == b"<"
    wide = beginning.startswith((b"\xff\xfe", b"\xfe\xff"))  # UTF-16, as some XML is
    return measured_of((read_espi if is_xml or wide else read_table)(path), path.name)
