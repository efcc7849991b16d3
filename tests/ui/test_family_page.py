"""The family's page: everyday words, choices that change file and answer, what it costs."""

from __future__ import annotations

import re
import tomllib

import pytest

from planner.report.cautions import IN_A_LINE
from planner.report.comforts.family_comforts import ALWAYS, IMPORTANCE, MATTERS, MUST, TOLD
from planner.report.family_words import HOW_WISHES_ARE_PRICED
from tests.ui.opening import SMALL, left, on_the_table, opened, settled, told, turned, two_plans
from ui.readings import home_of

HOME = "suburban.toml"
PRICES = ("wishes", "options")  # what each wish costs, and the ways to do it
JARGON = ("kva", "kvar", "ampere", "amperes", "amps", "coverage", "module", "modules", "frontier",
          "headroom", "shed", "shedding", "derated", "derate", "replay", "solver", "proof",
          "proven", "priority", "must-run", "locked rotor", "power factor", "calculated load",
          "slot", "direct", "nameplate", "btu/h", "knee", "dominated", "constraint", "optimal",
          "mip")
CAUTIONED = IN_A_LINE


def choice(at, comfort_id):
    """Give the control of one comfort."""
    return at.selectbox(key=f"matters {comfort_id}")


def wish(found, comfort_id):
    """Read what the file on the table says of a comfort."""
    return next(one for one in tomllib.loads(found.home_text)["comforts"]
                if one["id"] == comfort_id)


@pytest.mark.parametrize("name", [SMALL, HOME])
def test_the_page_speaks_no_jargon(name):
    """Above the cautions no word of the trade stands; names that the family gave are theirs."""
    found = on_the_table(name)
    at = settled(opened(found, "family"), leaving=() if name == SMALL else PRICES)
    assert not at.exception
    home = home_of(found).facts
    words = told(at).split(CAUTIONED)[0]
    for named in sorted([home.label, *(one.label for one in (*home.loads, *home.comforts))],
                        key=len, reverse=True):
        words = words.replace(named, "")
    assert [one for one in JARGON
            if re.search(rf"(?<![\w-]){re.escape(one)}(?![\w-])", words.casefold())] == []
    assert "What it would cost" in words
    if name == SMALL:
        assert HOW_WISHES_ARE_PRICED in words
    left(found)


def test_every_step_of_what_matters_lands_in_the_file():
    """Each of the family's words writes its importance or the must-run, and is shown again."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    for word in (*MATTERS, MATTERS[0]):
        choice(at, "dishes").set_value(word).run()
        chosen = wish(found, "dishes")
        assert chosen["must_run"] is (word == MUST)
        assert word == MUST or chosen["importance"] == IMPORTANCE[word]
        assert not at.exception
        assert choice(at, "dishes").value == word
    left(found)


def test_a_wish_changes_the_answer():
    """Without a cool house the plan is another and cheaper; taken back, as before."""
    found = on_the_table(SMALL)
    before = found.home_text
    at = settled(opened(found, "family"), leaving=PRICES)
    first = price(at)
    choice(at, "house").set_value(MATTERS[0]).run()
    settled(at, leaving=PRICES)
    assert not at.exception
    assert usd(price(at)) < usd(first)
    turned(at, "home")
    while found.past:
        at.button(key="step back").click().run()
    assert found.home_text == before
    settled(turned(at, "family"), leaving=PRICES)
    assert price(at) == first
    left(found)


def test_the_page_tells_what_an_outage_is_like():
    """The room in degrees, what works as always, nothing twice."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    words = told(at).split("What would happen")[1].split("What it would cost")[0]
    assert re.search(r"- House: no warmer than \d\d degF, no colder than \d\d degF", words)
    always = words.split(ALWAYS)[1]
    for one in home_of(found).facts.comforts:
        assert (one.label in always) is (one.kind not in TOLD), one.label


def price(at):
    """Read the large price of the page."""
    words = told(at)
    found = re.search(r"What it would cost\n(?:## )?([\d,]+ USD)", words)
    assert found, words
    return found.group(1)


def usd(text):
    """Read an amount."""
    return float(text.removesuffix(" USD").replace(",", ""))


def test_a_choice_that_is_made_again_changes_nothing():
    """Choosing the word that stands there leaves the file as it was."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    before = found.home_text
    group = next(one for one in at.selectbox if str(one.key).startswith("matters "))
    word = group.value
    group.set_value(word).run()
    assert not at.exception
    assert found.home_text == before
    assert at.selectbox(key=group.key).value == word


def test_the_wishes_page_shows_what_the_family_chose():
    """A choice of the family is the same wish on the estimator's page."""
    found = on_the_table(SMALL)
    at = settled(opened(found, "family"), leaving=PRICES)
    group = next(one for one in at.selectbox if str(one.key).startswith("matters "))
    comfort_id = str(group.key).removeprefix("matters ")
    group.set_value(MUST).run()
    settled(turned(at, "wishes"), leaving=PRICES)
    assert not at.exception
    table = at.data_editor[0].value
    label = next(one.label for one in home_of(found).facts.comforts if one.id == comfort_id)
    assert list(table.loc[table["label"] == label, "must_run"]) == [True]


def test_ways_to_do_it_each_have_a_price():
    """Options stand side by side, each with its price, none twice."""
    at = settled(opened(on_the_table(*two_plans()), "family"), leaving=("wishes",))
    words = told(at).split("Ways to do it")[1].split(CAUTIONED)[0]
    prices = re.findall(r"### ([\d,]+ USD)", words)
    assert 2 <= len(prices) <= 4
    assert len(set(prices)) == len(prices)
