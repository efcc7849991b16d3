"""What was left open, as steps."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from planner.search.still_open import NOTHING, lower_of, most_at, most_below, steps_of

OPENED = st.lists(st.tuples(st.integers(0, 20).map(float), st.integers(0, 10).map(float)),
                  max_size=12)


@given(OPENED, st.integers(-1, 22))
def test_steps_say_what_the_list_says(opened, usd):
    """At and below each price the most that is open for it, and nothing else."""
    steps = steps_of(opened)
    assert most_at(steps, usd) == max((h for u, h in opened if u <= usd), default=NOTHING)
    assert most_below(steps, usd) == max((h for u, h in opened if u < usd), default=NOTHING)
    assert list(steps) == sorted(set(steps))


@given(OPENED, OPENED, st.integers(-1, 22))
def test_of_two_searches_the_lower_counts_at_every_price(one, other, usd):
    """What either has decided is decided."""
    both = lower_of(steps_of(one), steps_of(other))
    assert most_at(both, usd) == min(most_at(steps_of(one), usd), most_at(steps_of(other), usd))
