"""What is decided about a home, in the form that the replay plays."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.service.loops.inputs import BY_HAND, DIRECT, MODULE, OFF

__all__ = ["BY_HAND", "DIRECT", "MODULE", "NO_STARTER", "OFF", "Choice", "with_value"]

NO_STARTER = 0  # of `Choice.soft_start`, and the column of every table by soft starter


@dataclass(frozen=True)
class Choice:
    """Connections, soft starters and the priority order.

    Attributes
    ----------
    connection : tuple of int, length n
        `OFF`, `DIRECT`, `MODULE` or `BY_HAND` (the family opens it), in the order of `House.ids`.
    soft_start : tuple of int, length n
        `NO_STARTER`, else 1 + the place of the soft starter in the price book.
    order : tuple of int
        The module loads, priority 1 first.
    sensing : frozenset of int
        Module loads that get a dearer module than the cheapest, one that senses their call.
    kept_open : frozenset of int
        Loads that are off by a module that stays open as long as the generator feeds the house; any
        other that is off behind whole-house transfer is moved to the utility side. To the service
        rule both are off.
    """

    connection: tuple[int, ...]
    soft_start: tuple[int, ...]
    order: tuple[int, ...]
    sensing: frozenset[int] = frozenset()
    kept_open: frozenset[int] = frozenset()

    def __post_init__(self) -> None:
        """Refuse what contradicts the connections (ValueError).

        An order that is not exactly the modules, others that sense, or that stay open but are on.
        """
        modules = [i for i, how in enumerate(self.connection) if how == MODULE]
        if sorted(self.order) != modules:
            msg = f"the order {self.order} must hold each module load once: {modules}"
            raise ValueError(msg)
        if not self.sensing <= set(modules):
            msg = f"{sorted(self.sensing)} have modules that sense, and {modules} have modules"
            raise ValueError(msg)
        off = [i for i, how in enumerate(self.connection) if how == OFF]
        if not self.kept_open <= set(off):
            msg = f"{sorted(self.kept_open)} have modules that stay open, and {off} are off"
            raise ValueError(msg)

    def is_firm(self, i: int) -> bool:
        """Whether load i is on whenever it calls until somebody opens its breaker, if ever."""
        return self.connection[i] in (DIRECT, BY_HAND)

    @property
    def modules(self) -> int:
        """How many shedding modules it takes: those that take turns and those that stay open."""
        return len(self.order) + len(self.kept_open)

    @property
    def left_out(self) -> frozenset[int]:
        """What is off without a module: moved to the utility side, or in no selected position."""
        off = {i for i, how in enumerate(self.connection) if how == OFF}
        return frozenset(off - self.kept_open)

    def connection_array(self) -> NDArray[np.int64]:
        """`connection` as an array of shape (n,)."""
        return np.array(self.connection, dtype=np.int64)

    def order_array(self) -> NDArray[np.int64]:
        """`order` as an array of shape (number of modules,)."""
        return np.array(self.order, dtype=np.int64)


def with_value(values: tuple[int, ...], i: int, value: int) -> tuple[int, ...]:
    """Give connections or soft starters with another value for load i, shape (n,) as before."""
    return (*values[:i], value, *values[i + 1:])
