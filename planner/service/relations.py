"""Lists of places, padded to one width for the loops."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from planner.arrays import Ints


def padded(rows: Sequence[Sequence[int]]) -> Ints:
    """Give lists of places as rows of one width, padded with -1."""
    width = max(1, *(len(row) for row in rows)) if rows else 1
    return np.array([[*row, *[-1] * (width - len(row))] for row in rows],
                    dtype=np.int64).reshape(len(rows), width)
