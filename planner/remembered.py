"""Answers remembered by the identity of what was asked about.

Homes, price books and what is made of them hold mappings and arrays and cannot be told apart by
value without looking at all of it. Who changes one makes a new one, so the same object is the same
question.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import Generic, TypeVar

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


class Itself(Generic[Asked]):
    """Something as a key by its identity; it stays alive with the key."""

    def __init__(self, it: Asked) -> None:
        self.it = it

    def __hash__(self) -> int:
        return id(self.it)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Itself) and self.it is other.it


def remembered(
    most: int,
) -> Callable[[Callable[[Asked], Answer]], Callable[[Asked], Answer]]:
    """Mark a function of one argument whose last `most` answers are kept; nobody changes them."""

    def mark(function: Callable[[Asked], Answer]) -> Callable[[Asked], Answer]:
        @lru_cache(maxsize=most)
        def answer(asked: Itself[Asked]) -> Answer:
            return function(asked.it)

        @wraps(function)
        def ask(asked: Asked) -> Answer:
            return answer(Itself(asked))

        return ask

    return mark
