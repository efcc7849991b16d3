"""Homes of groups whose true frontier is known at any size; same seed, same home and truth."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import count, islice

from tests.oracle.apart import group, home_of, setting
from tests.oracle.groups import Alone, Part, carries_everything, never_meet, together
from tests.oracle.market import Offer, equipment, staircase

SIZES_OF_GROUPS = {3: ((4, 4, 4), (5, 5, 5), (6, 6, 6)),
                   4: ((3, 3, 3, 3), (3, 4, 4, 4), (4, 4, 5, 5))}
SETTINGS = 8
VARIANTS = 2
LEAST_WAYS = 3


@dataclass(frozen=True)
class Known:
    """A home, its book, the groups it is made of, and its true frontier.

    `truth` holds the offers that none beats, by rising cost; `parts` what each is made of.
    """

    number: int
    home: object
    book: object
    alone: tuple[Alone, ...]
    truth: tuple[Offer, ...]
    parts: tuple[Part, ...]


@cache
def _alone(number, key):
    return Alone(home_of(number, [group(number, *key)]), setting(number).energy_binds)


@cache
def _parts(number, key, generator, kind):
    book = setting(number).book
    (size,) = (one for one in book.generators if one.id == generator)
    return _alone(number, key).parts(book, size, kind)


def _connections(number, key, generator, kind):
    """Ways to connect a group that none beats, however what is off is so."""
    return len({part.ways[0][:3] for part in _parts(number, key, generator, kind)})


def keys_of(seed):
    """Setting and keys of the groups (window, size, variant) of a home."""
    number = seed % SETTINGS
    windows = len(setting(number).windows)
    sizes = SIZES_OF_GROUPS[windows][number // 2 % 3]
    return number, tuple(_lively(number, window, sizes[window],
                                 (seed // SETTINGS >> window) % VARIANTS)
                         for window in range(windows))


@cache
def _lively(number, window, size, nth):
    """Key of the nth group that some generator can serve in several ways."""
    where = setting(number)
    good = (key for key in ((window, size, variant) for variant in count())
            if any(_connections(number, key, one.id, kind) >= LEAST_WAYS
                   for one in where.book.generators for kind in where.home.transfer_kinds)
            and all(_parts(number, key, where.book.generators[-1].id, kind)
                    for kind in where.home.transfer_kinds))
    return next(islice(good, nth, None))


@cache
def known(seed):
    """Make a home of groups and work out its frontier."""
    number, keys = keys_of(seed)
    where = setting(number)
    one = home_of(number, [group(number, *key) for key in keys])
    alone = tuple(_alone(number, key) for key in keys)
    assert never_meet([each.hours for each in alone])
    assert carries_everything(one, where.book)
    found = {}
    for size in where.book.generators:
        for kind in one.transfer_kinds:
            for offer, part in _offers(number, keys, one, size, kind):
                found.setdefault(offer, part)
    truth = tuple(staircase(found))
    return Known(number, one, where.book, alone, truth, tuple(found[each] for each in truth))


def _offers(number, keys, one, size, kind):
    where = setting(number)
    alone = [_alone(number, key) for key in keys]
    most_above = [size.permitted_average - idle for idle in alone[0].idle(size)]
    front = None
    for key in keys:
        parts = _parts(number, key, size.id, kind)
        front = parts if front is None else together(front, parts, most_above)
    weight = sum(each.weight for each in alone)
    for part in front:
        connection = ("direct", *(how for way in part.ways for how in way[0][1:]))
        usd = equipment(one, where.book, size, kind, connection, part.modules)
        if usd is not None:
            yield Offer(size.id, kind, usd + part.usd, part.kept / weight if weight else 1.0,
                        connection), part
