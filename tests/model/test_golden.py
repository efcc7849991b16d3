"""What each rule adds to the model stands in a text that a person has read."""

from __future__ import annotations

from difflib import unified_diff

import highspy
import pytest

from planner.model.rules import RULES
from tests.model.golden_text import HERE, path_of, text_of
from tests.model.tiny import TINY

LONGEST = 120
by_name = pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.__name__)


def test_no_rule_lacks_a_text_or_a_home():
    """Every rule has a golden text and a tiny home of its own, and there is none without a rule."""
    names = {rule.__name__ for rule in RULES}
    assert len(names) == len(RULES)
    assert {path.stem for path in HERE.glob("*")} == names
    assert set(TINY) == names


@by_name
def test_a_rule_adds_what_its_text_says(rule):
    """The rows on the tiny home are those of the text, letter by letter."""
    kept, now = path_of(rule).read_text("utf-8"), text_of(rule)
    difference = "\n".join(unified_diff(kept.splitlines(), now.splitlines(), "kept", "now",
                                        lineterm=""))
    assert not difference, f"{path_of(rule).name} (to keep it: see golden_text.py)\n{difference}"


@pytest.mark.solver
@by_name
def test_a_text_is_short_and_a_solver_can_read_it(rule):
    """No text is empty or longer than two pages, and as an LP file it holds the rows that it shows.

    The rows are those between "Subject To" and "Bounds".
    """
    lines = path_of(rule).read_text("utf-8").splitlines()
    shown = lines.index("Bounds") - lines.index("Subject To") - 1
    assert shown > 0
    assert len(lines) <= LONGEST
    engine = highspy.Highs()
    engine.setOptionValue("output_flag", False)
    assert engine.readModel(str(path_of(rule))) == highspy.HighsStatus.kOk
    assert engine.getNumRow() == shown
