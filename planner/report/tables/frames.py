"""Tables as pandas frames, for charts, spreadsheets and documents."""

from __future__ import annotations

from typing import TypeVar

import pandas as pd

from planner.report.tables.column import Table

Item = TypeVar("Item")


def frame(table: Table[Item]) -> pd.DataFrame:
    """Turn a table into a frame of plain values.

    Returns
    -------
    pandas.DataFrame, shape (items, columns)
        Columns named by `Column.key`, units in the names; a missing value is NaN or None.
    """
    return pd.DataFrame(table.records, columns=[column.key for column in table.columns])
