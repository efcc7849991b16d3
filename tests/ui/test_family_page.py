"""The family's page: everyday words, choices that change file and answer, what it costs."""

from __future__ import annotations

import re
import tomllib

import pytest

from planner.report.family_words import (
    HOW_WISHES_ARE_PRICED,
    IMPORTANCE,
    MATTERS,
    MUST,
)
from tests.ui.opening import left, on_the_table, opened, settled, told, turned
from ui.demos import demo_homes
from ui.readings import home_of

HOME = "suburban.toml"
SMALL = "gas_heated_small.toml"
LONG = ("large_estate.toml", "town_house_selected.toml")
PRICES = ("wishes", "curve")  # what each wish costs, and the three ways
JARGON = ("kva", "kvar", "ampere", "amperes", "amps", "coverage", "module", "modules", "frontier",
          "headroom", "shed", "shedding", "derated", "derate", "replay", "solver", "proof",
          "proven", "priority", "must-run", "locked rotor", "power factor", "calculated load",
          "slot", "direct", "nameplate", "btu/h", "knee", "dominated", "constraint", "optimal",
          "mip")
CAUTIONED = "Before anyone acts on this"


def choice(at, load_id):
    """Give the control of one load."""
    return next(one for one in at.get("button_group") if one.key == f"matters {load_id}")


def load(found, load_id):
    """Read a load of the file on the table."""
    return next(one for one in tomllib.loads(found.home_text)["loads"] if one["id"] == load_id)


@pytest.mark.parametrize("name", sorted(set(demo_homes()) - set(LONG)))
def test_the_page_speaks_no_jargon(name):
    """Above the cautions no word of the trade stands; names that the family gave are theirs."""
    found = on_the_table(name)
    at = settled(opened(found, "family"),
                 leaving=("wishes",) if name not in (SMALL, HOME) else ())
    assert not at.exception
    home = home_of(found).facts
    words = told(at).split(CAUTIONED)[0]
    for named in sorted([home.label, *(one.label for one in home.loads)], key=len, reverse=True):
        words = words.replace(named, "")
    assert [one for one in JARGON
            if re.search(rf"(?<![\w-]){re.escape(one)}(?![\w-])", words.casefold())] == []
    assert "What it would cost" in words
    if name in (SMALL, HOME):
        assert HOW_WISHES_ARE_PRICED in words
    left(found)


def test_every_step_of_what_matters_lands_in_the_file():
    """Each of the family's words writes its importance or the must-run, and is shown again."""
    found = on_the_table(HOME)
    at = settled(opened(found, "family"), leaving=PRICES)
    for word in (*MATTERS, MATTERS[0]):
        choice(at, "range").set_value(word).run()
        chosen = load(found, "range")
        assert chosen["must_run"] is (word == MUST)
        assert word == MUST or chosen["importance"] == IMPORTANCE[word]
        assert not at.exception
        assert choice(at, "range").value == word
    left(found)


def test_a_wish_changes_the_answer():
    """With the air conditioner as a must the plan is another and dearer; taken back, as before."""
    found = on_the_table(HOME)
    before = found.home_text
    at = settled(opened(found, "family"), leaving=PRICES)
    first = price(at)
    for one in [one for one in home_of(found).facts.loads if one.kind == "central air conditioner"]:
        choice(at, one.id).set_value(MUST).run()
    settled(at, leaving=PRICES)
    assert not at.exception
    assert usd(price(at)) > usd(first)
    turned(at, "home")
    while found.past:
        at.button(key="step back").click().run()
    assert found.home_text == before
    settled(turned(at, "family"), leaving=PRICES)
    assert price(at) == first
    left(found)


def price(at):
    """Read the large price of the page."""
    words = told(at)
    found = re.search(r"What it would cost\n(?:## )?([\d,]+ USD)", words)
    assert found, words
    return found.group(1)


def usd(text):
    """Read an amount."""
    return float(text.removesuffix(" USD").replace(",", ""))


def test_a_choice_that_is_taken_off_changes_nothing():
    """Clicking the chosen word again leaves the wish as it was."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    before = found.home_text
    group = next(one for one in at.get("button_group") if str(one.key).startswith("matters "))
    word = group.value
    group.set_value(None).run()
    assert not at.exception
    assert found.home_text == before
    assert next(one for one in at.get("button_group") if one.key == group.key).value == word


def test_the_wishes_page_shows_what_the_family_chose():
    """A choice of the family is the same wish on the estimator's page."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    group = next(one for one in at.get("button_group") if str(one.key).startswith("matters "))
    load_id = str(group.key).removeprefix("matters ")
    group.set_value(MUST).run()
    settled(turned(at, "wishes"), leaving=PRICES)
    assert not at.exception
    table = at.data_editor[0].value
    label = home_of(found).facts.load(load_id).label
    assert list(table.loc[table["label"] == label, "must_run"]) == [True]


def test_three_ways_each_have_a_price():
    """Up to three options stand side by side, each with its price, none twice."""
    at = settled(opened(on_the_table(HOME), "family"), leaving=("wishes",))
    words = told(at).split("Three ways to do it")[1].split(CAUTIONED)[0]
    prices = re.findall(r"### ([\d,]+ USD)", words)
    assert 2 <= len(prices) <= 3
    assert len(set(prices)) == len(prices)
