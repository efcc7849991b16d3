"""Content as text: with its files inside, or with digests in their place."""

from __future__ import annotations

import hashlib
import zlib
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from typing import TypeVar

from pydantic import TypeAdapter

from planner.jobs.content import Content, File, Quote

Held = TypeVar("Held", Content, Quote)


@cache
def adapter(kind: type[Held]) -> TypeAdapter[Held]:
    """What checks and writes content."""
    return TypeAdapter(kind)


def digest_of(text: str) -> str:
    """SHA-256 of a text."""
    return hashlib.sha256(text.encode()).hexdigest()


def packed(content: Content) -> tuple[str, dict[str, str]]:
    """Write content with digests in place of texts, and the texts by digest."""
    texts: dict[str, str] = {}

    def out(one: File) -> File:
        digest = digest_of(one.text)
        texts[digest] = one.text
        return replace(one, text=digest)

    return adapter(Content).dump_json(_with_files(content, out)).decode(), texts


def unpacked(text: str, texts: Mapping[str, str]) -> Content:
    """Read what `packed` wrote.

    Raises
    ------
    KeyError
        A text is missing.
    ValueError
        It is not what `packed` writes.
    """
    return _with_files(adapter(Content).validate_json(text),
                       lambda one: replace(one, text=texts[one.text]))


def squeezed(text: str) -> bytes:
    """A text as it lies in the store."""
    return zlib.compress(text.encode())


def spread(held: bytes) -> str:
    """A text from the store.

    Raises
    ------
    ValueError
        It is none.
    """
    try:
        return zlib.decompress(held).decode()
    except zlib.error as problem:
        raise ValueError(str(problem)) from None


def _with_files(content: Content, change: Callable[[File], File]) -> Content:
    return replace(content, home=change(content.home), book=change(content.book),
                   past=tuple(map(change, content.past)),
                   undone=tuple(map(change, content.undone)))
