"""What things are called: every name of a kind, and the words that the reader knows."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from planner.editing.everyday import everyday_names, several_kinds

MOST_WORDS = 5


@cache
def names() -> Mapping[str, str]:
    """Kinds by name: what everyday words mean, and what else a family says."""
    return {**_names(), **everyday_names()}


@cache
def vague() -> Mapping[str, tuple[str, ...]]:
    """What may mean several kinds, each with what to write instead."""
    return several_kinds()


@cache
def no_loads() -> frozenset[str]:
    """Things that a house has and that draw nothing worth planning, or are not planned."""
    return frozenset(_words()["no_load"]["names"])


@cache
def places() -> frozenset[str]:
    """Names of kinds that are places, too: what stands in the workshop is no workshop."""
    return frozenset(_words()["places"]["names"])


@cache
def idioms() -> tuple[str, ...]:
    """Phrases that hold the name of a kind and mean none."""
    return tuple(_words()["idioms"]["phrases"])


@cache
def small_talk(part: str = "words") -> frozenset[str]:
    """Words of which what is left over may consist; ``list``: those that only join a list."""
    return frozenset(_words()["small_talk"][part])


@cache
def vocabulary() -> frozenset[str]:
    """Single words that a slip of the keyboard may have meant."""
    of_names = {word for name in (*names(), *vague(), *no_loads())
                for word in re.findall(r"[a-z]+", name)}
    return frozenset(word for word in of_names | set(_words()["vocabulary"]["words"])
                     if len(word) > 2)


def _names() -> Mapping[str, str]:
    return {str(name): str(kind) for name, kind in _told()["names"].items()}


def _words() -> Mapping[str, Mapping[str, list[str]]]:
    return {part: words for part, words in _told().items() if part != "names"}


@cache
def _told() -> Mapping[str, Any]:
    text = files("planner.editing.family").joinpath("words.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
