"""Lines of a list of which no load was made are not lost: the home keeps them and says so."""

import pytest

from planner.case.read import read_home_text
from planner.editing.any_list import read_any
from planner.editing.lists import refuse_without_loads
from planner.editing.new_home import EMPTY_HOME, new_home_text, with_listed
from planner.editing.values import edited
from planner.errors import CaseError, Severity

SCHEDULE = """\
circuit,description,breaker,poles
1,Range,50,2
5,Flux capacitor,20,1
7,???,20,1
2,Subpanel barn,60,2
"""
LINES = ["line 3: Flux capacitor (position 5, 20 A, 1 pole)",
         "line 4: ??? (position 7, 20 A, 1 pole)",
         "line 5: Subpanel barn (position 2, 60 A, 2 poles)"]


def warned(text):
    """Warnings of a home about its list."""
    _, findings = read_home_text(text, "home.toml")
    return [one.sentence for one in findings if "not_read" in one.where
            and one.severity is Severity.WARNING]


def test_a_home_says_which_circuits_it_was_made_without():
    """Three circuits without a load are named whenever the home is read, also after a change."""
    text = new_home_text(read_any(SCHEDULE, "panel.csv"), "Home")
    one, = warned(edited(text, {("home", "service"): "150 A"}))
    assert one.startswith("3 lines of the list are not in this home: ")
    assert all(line in one for line in LINES)


def test_until_the_lines_are_taken_out():
    """Nothing is said once the family has deleted the lines, nor of a list that was read whole."""
    text = new_home_text(read_any(SCHEDULE, "panel.csv"), "Home")
    assert warned(edited(text, {("list", "not_read"): []})) == []
    assert warned(new_home_text(read_any("fridge\nrange\n"), "Home")) == []


def test_lines_of_a_second_list_stand_behind_those_of_the_first():
    """What is added to a home adds what it could not read; the same line stands once."""
    text = with_listed(with_listed(EMPTY_HOME, read_any("fridge\nxyzzy\n")),
                       read_any("range\nblorp\nblah\n"))
    one, = warned(with_listed(text, read_any("range\nblorp\n")))
    assert one == ('3 lines of the list are not in this home: "line 2: xyzzy", "line 2: blorp", '
                   '"line 3: blah".')


@pytest.mark.parametrize("text", ["xyzzy\nfoo bar\n", "kind,size\nxyzzy,3 ton\n",
                                  "circuit,description,breaker\n1,Flux capacitor,20\n3,spare,\n"])
def test_a_list_of_which_nothing_is_understood_is_refused(text):
    """No home of lights alone is made of it; the refusal carries what was found of each line."""
    listed = read_any(text, "it.txt")
    with pytest.raises(CaseError, match="nothing of it could be read") as refused:
        refuse_without_loads(listed, "it.txt")
    assert set(listed.findings) <= set(refused.value.findings)
