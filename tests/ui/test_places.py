"""Places to work at: a fair part for each visitor, in the order of asking, none lost."""

from __future__ import annotations

import random
from collections import Counter

from ui.places import Places


def asked(places, visitors):
    """Ask for each visitor in turn; gives the requests and the list that those begun join."""
    begun = []
    return [places.ask(visitor, begun.append) for visitor in visitors], begun


def test_who_asks_for_a_free_place_begins_at_once():
    """There is a place, and it is nobody else's turn."""
    seats, begun = asked(Places(2, 2), "ab")
    assert begun == seats


def test_a_visitor_has_a_fair_part_at_most():
    """Of ten requests two begin; another visitor's first begins before the third of them."""
    seats, begun = asked(Places(4, 2), "aaaaaaaaaab")
    assert begun == [*seats[:2], seats[-1]]


def test_the_first_who_asked_is_served_first():
    """Visitors who work at nothing are served in the order in which they came."""
    places = Places(1, 1)
    seats, begun = asked(places, "abcd")
    for seat in seats:
        assert begun[-1] is seat
        places.give_back(seat)
    assert begun == seats


def test_requests_of_one_visitor_are_served_in_their_order():
    """A place that is given back goes to the visitor's oldest request."""
    places = Places(4, 2)
    seats, begun = asked(places, "aaaa")
    places.give_back(seats[1])
    places.give_back(seats[0])
    assert begun == seats


def test_who_works_at_less_goes_first():
    """A newcomer gets the next place ahead of the older request of one who has a place."""
    places = Places(2, 2)
    seats, begun = asked(places, "aaab")
    places.give_back(seats[0])
    assert begun == [seats[0], seats[1], seats[3]]


def test_who_leaves_the_queue_never_begins():
    """And the next moves up; who has a place is in no queue."""
    places = Places(1, 1)
    seats, begun = asked(places, "abc")
    assert places.withdraw(seats[1])
    assert not places.withdraw(seats[1])
    assert not places.withdraw(seats[0])
    places.give_back(seats[0])
    assert begun == [seats[0], seats[2]]


def test_a_place_given_back_while_it_begins_is_taken_by_the_next():
    """Work that ends at once, in the same thread, loses no place."""
    places, done = Places(1, 1), []

    def at_once(seat):
        done.append(seat.visitor)
        places.give_back(seat)

    for visitor in "abca":
        places.ask(visitor, at_once)
    assert done == list("abca")


def test_rules_hold_whatever_comes():
    """Never more at work than places or a fair part; no place is free for one who may have it."""
    chance = random.Random(7)
    for _ in range(50):
        number, most = chance.randint(1, 5), chance.randint(1, 3)
        places, begun = Places(number, most), []
        waiting, working = [], []
        for _ in range(60):
            what = chance.random()
            if what < 0.5:
                waiting.append(places.ask(chance.choice("abcd"), begun.append))
            elif what < 0.6 and waiting:
                assert places.withdraw(waiting.pop(chance.randrange(len(waiting))))
            elif working:
                places.give_back(working.pop(chance.randrange(len(working))))
            for seat in begun:
                waiting.remove(seat)
                working.append(seat)
            begun.clear()
            each = Counter(seat.visitor for seat in working)
            assert len(working) <= number
            assert all(count <= most for count in each.values())
            assert len(working) == number or all(
                each[seat.visitor] == most for seat in waiting)
        while working:
            places.give_back(working.pop())
            waiting = [seat for seat in waiting if seat not in begun]
            working += begun
            begun.clear()
        assert not waiting
