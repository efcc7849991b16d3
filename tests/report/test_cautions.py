"""The cautions name every danger, wherever an answer is read."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.report.cautions import CAUTIONS, price_notice
from tests.homes import book

README = (Path(__file__).parents[2] / "README.md").read_text("utf-8")
DANGERS = ("authority having jurisdiction", "licensed electrician", "gas piping", "backfeed",
           "transfer equipment", "no neutral", "carbon monoxide", "outdoors only", "nameplates",
           "Medical equipment")


@pytest.mark.parametrize("danger", DANGERS)
def test_each_danger_is_named_in_answers_and_in_the_readme(danger):
    """Line breaks and emphasis aside, both say the same."""
    assert danger in " ".join(CAUTIONS)
    assert danger in " ".join(README.replace("*", "").split())


def test_prices_come_with_their_notice():
    """The notice of the book is repeated word for word."""
    offered = book()
    assert offered.notice in price_notice(offered)
