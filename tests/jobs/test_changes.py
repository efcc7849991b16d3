"""What was changed between two texts, in a line."""

from __future__ import annotations

import pytest

from planner.jobs.changes import what_changed

HOME = """
[home]
label = "One"
service = "200 A"
[[loads]]
id = "air"
label = "Air conditioner"
size = "3 ton"
[[loads]]
id = "well"
kind = "well pump"
must_run = true
"""


@pytest.mark.parametrize(("old", "new", "said"), [
    ('size = "3 ton"', 'size = "4 ton"', "Air conditioner size: 3 ton → 4 ton"),
    ('service = "200 A"', 'service = "100 A"', "service: 200 A → 100 A"),
    ("must_run = true", "must_run = false", "well must run: yes → no"),
    ("must_run = true\n", "", "well must run: yes → nothing"),
    ('[[loads]]\nid = "well"\nkind = "well pump"\nmust_run = true\n', "", "well removed"),
    ("must_run = true", 'must_run = true\n[[loads]]\nid = "spa"', "spa added"),
    ('label = "One"', 'label = "Two" # yes', "label: One → Two"),
    ("must_run = true", 'must_run = true\n[[comforts]]\nid = "car"\nimportance = 2',
     "car importance: nothing → 2"),
    ("[home]", "# a comment\n[home]", "written otherwise"),
    ("[home]", "[home", "the file as text"),
])
def test_the_change_is_named(old: str, new: str, said: str) -> None:
    """A changed, added or removed value or item is called by its name, with both values."""
    assert old in HOME
    assert what_changed(HOME, HOME.replace(old, new, 1)) == said


def test_of_several_changes_the_first_is_named() -> None:
    """How many more there are is said."""
    after = HOME.replace("3 ton", "4 ton").replace("200 A", "100 A")
    assert what_changed(HOME, after) == "service: 200 A → 100 A, and 1 more"
