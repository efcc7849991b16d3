"""What `planner portable` answers."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.case.book.read import read_book
from planner.report.cautions import CAUTIONS
from planner.report.portable.steps import DANGERS, OF_PORTABLES

CASES = Path(__file__).parents[2] / "cases"
HOME, BOOK = CASES / "gas_heated_small.toml", CASES / "demo_price_book.toml"


def test_the_text_says_first_for_whom_it_is_not(planner):
    """The refusal stands in the first sentence; prices, groups, fuel, neutral, cautions follow."""
    text = " ".join(planner("portable", HOME).out.split())
    assert text.startswith("Small house with gas heat, by hand. Not recommended for this home. "
                           "Sump pit: water rises whether or not anybody is there; Heat: on Ice "
                           "storm in January pipes can freeze")
    for words in ("What is on offer", "with the soft starter in this price it starts",
                  "On all day on Hot summer day", "OFF all day on Ice storm in January: Air condit",
                  "When the utility fails 1. Engine outside", "Refuelled at", "NEC 702.4(B)(1)",
                  "bonded twice", "Invented prices", CAUTIONS[2][:60], OF_PORTABLES[-1][:40],
                  "It would be all right only if somebody is at home all day"):
        assert words in text, words


def test_dangers_and_the_flood_come_before_every_figure(planner):
    """What kills stands under the title, then what floods with hour and cause, then percentages."""
    text = " ".join(planner("portable", HOME).out.split())
    flood = text.index("Floods: Sump pit overflows on Windy day in October at 8:00 and 22:00: the "
                       "engine stands 30 min to be refuelled then, and without its pump the pit is "
                       "full within 8 min; no other hour of that day is better.")
    for one in DANGERS:
        assert text.index(one[:60]) < flood
    assert flood < text.index(" USD")
    assert flood < text.index(" % ")


def test_the_data_have_every_option_and_are_consistent(planner):
    """Every option fits its machine, sums its lines, and is recommended to nobody here."""
    data = planner("portable", HOME, "--json").data
    assert data["recommended"] is False
    assert {one["what"] for one in data["unattended"]} == {"Sump pit", "Heat"}
    assert data["cautions"] == list(CAUTIONS)
    assert data["cautions_of_portables"] == list(OF_PORTABLES)
    options = data["options"]
    assert [one["cost"] for one in options] == sorted(one["cost"] for one in options)
    assert {one["portable"] for one in options} == {
        one.id for one in read_book(BOOK)[0].by_hand.portables}
    for one in options:
        assert one["cost"] == pytest.approx(sum(line["cost"] for line in one["lines"]), abs=0.02)
        assert one["lines"][-1]["text"].startswith("gasoline for 3 days")
        assert 0.0 <= one["kept"] < 1.0
        assert "Sump pit: overflows" in " ".join(one["broken"])
        for day in one["days"]:
            assert day["refuelled_at_h"]
            assert len(day["groups"]) == 9
            changes_lead_from_group_to_group(day["groups"])
    shown = options[data["shown"]]
    assert len(shown["broken"]) == min(len(one["broken"]) for one in options)


def changes_lead_from_group_to_group(groups):
    """What was on, less what is turned off, with what is turned on, is on; around the clock."""
    before = set(groups[-1]["on"])
    for one in groups:
        assert before - set(one["turn_off"]) | set(one["turn_on"]) == set(one["on"])
        assert set(one["turn_off"]) <= before
        assert not set(one["turn_on"]) & before
        before = set(one["on"])


def test_a_machine_can_be_asked_for_by_its_id(planner):
    """That one is shown in full; an unknown id is a usage error that names those there are."""
    text = planner("portable", HOME, "--machine", "portable-4").out
    assert "Demo portable generator, 4 kW, Demo panel interlock" in " ".join(text.split())
    wrong = planner("portable", HOME, "--machine", "huge")
    assert wrong.code == 2
    assert "It has: portable-2-5, portable-4" in " ".join(wrong.err.split())


def test_a_book_without_portables_says_so(planner, tmp_path):
    """The command answers, with its cautions, that there is nothing to offer."""
    text = BOOK.read_text("utf-8")
    short = tmp_path / "short.toml"
    short.write_text(text[:text.index("[[portables]]")], "utf-8")
    result = planner("portable", HOME, "--book", short)
    assert result.code == 0
    assert "The price book offers no portable generator" in result.out
    assert planner("portable", HOME, "--book", short, "--json").data["options"] == []


def test_attendance_of_the_file_is_used(planner, tmp_path):
    """`[portable]` of a home says when somebody is there; the periods follow, and it is said."""
    home = tmp_path / "home.toml"
    text = HOME.read_text("utf-8").replace("demo_price_book.toml", str(BOOK))
    home.write_text(f'{text}\n[portable]\nattended = ["7:00", "21:00"]\nevery = "7 h"\n', "utf-8")
    data = planner("portable", home, "--json").data
    groups = data["options"][0]["days"][0]["groups"]
    assert [one["from_h"] for one in groups] == [7.0, 14.0, 21.0]
    assert "By the file: somebody is there and awake from 7:00 to 21:00" in " ".join(
        planner("portable", home).out.split())


def test_it_stands_apart_from_the_plans(planner):
    """No plan of the frontier is a portable generator, whatever the book offers."""
    data = planner("frontier", HOME, "--json").data
    assert data["points"]
    assert not any("portable" in str(one["generator"]) for one in data["points"])
