"""Which entry of a feed belongs to which, by their links."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from xml.etree.ElementTree import Element


@dataclass(frozen=True, slots=True)
class Entry:
    """Where an entry stands, what it stands under, and what it points to."""

    itself: str
    up: str
    related: tuple[str, ...]


@dataclass
class Links:
    """The entries of a feed: each has a link to itself, up, and to what is related to it."""

    by_itself: dict[str, Entry] = field(default_factory=dict)
    by_related: dict[str, Entry] = field(default_factory=dict)

    def entry(self, element: Element) -> Entry:
        """Take the links of an entry."""
        by: dict[str, list[str]] = {}
        for child in element:
            if str(child.tag).rpartition("}")[2] == "link":
                by.setdefault(child.get("rel", ""), []).append(
                    child.get("href", "").strip().rstrip("/"))
        found = Entry(next(iter(by.get("self", [])), ""), next(iter(by.get("up", [])), ""),
                      tuple(by.get("related", [])))
        if found.itself:
            self.by_itself[found.itself] = found
        self.by_related.update(dict.fromkeys(found.related, found))
        return found

    def reading_type(self, block: Entry, types: Collection[str]) -> str | None:
        """Find the reading type that the meter reading above a block points to; None without."""
        above = self._above(block)
        pointed = () if above is None else above.related
        return next((name for name in pointed if name in types), None)

    def usage_point(self, block: Entry) -> str:
        """Find the usage point above a block; empty where the links do not say."""
        above = self._above(block)
        point = None if above is None else self._above(above)
        return "" if point is None else point.itself

    def _above(self, below: Entry) -> Entry | None:
        """The entry that points down to one, or that its link up leads into."""
        for name in (below.up, below.itself):
            found = self.by_related.get(name)
            if found is not None and found is not below:
                return found
        path = below.up
        while path:
            found = self.by_itself.get(path)
            if found is not None and found is not below:
                return found
            path = path.rpartition("/")[0]
        return None
