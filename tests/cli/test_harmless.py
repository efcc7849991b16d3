"""Nothing that stands in a file acts on the terminal, and no message is longer than its value."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest

from planner.cli.terminal.output import Harmless, console
from planner.quoting import MOST_QUOTED, harmless, harmless_json, quoted, shortened
from tests.cli.conftest import HOME

BOOK = (Path(__file__).parents[2] / "cases" / "demo_price_book.toml").read_text("utf-8")
NASTY = "\\u001b]0;taken\\u0007\\u001b[31mRed\\u009b2J\\u202edesrever\\u2028x\\u007f"
ACTING = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069]")


@pytest.fixture
def nasty(tmp_path):
    """A sound home and a sound price book in which every label is full of acting signs."""
    book = re.sub(r'(?m)^(label|notice) = "', lambda found: f'{found[1]} = "{NASTY} ', BOOK)
    (tmp_path / "book.toml").write_text(book, "utf-8")
    home = HOME.replace("[home]", '[home]\nprice_book = "book.toml"').replace(
        'label = "Test house"', f'label = "{NASTY}"').replace(
        'id = "hot"', f'id = "hot"\nlabel = "{NASTY} day"')
    for name in ("air", "blower", "heater", "lights"):
        home = home.replace(f'id = "{name}"', f'id = "{name}"\nlabel = "{NASTY} {name}"')
    path = tmp_path / "nasty.toml"
    path.write_text(home, "utf-8")
    return path


@pytest.mark.parametrize("as_json", [False, True], ids=["text", "json"])
@pytest.mark.parametrize("command", [
    ("check", "--assumed"), ("demand",), ("plan",), ("frontier",), ("compare",), ("explain",),
    ("simulate", "--seeds", "1", "--hours", "6", "--log")], ids=lambda command: command[0])
def test_no_label_acts_on_the_terminal(planner, nasty, command, as_json):
    """Both streams of every command; as data the label is what the file says."""
    outcome = planner(command[0], nasty, *command[1:], *(["--json"] if as_json else []))
    assert outcome.code == 0
    assert ACTING.findall(outcome.out + outcome.err) == []
    if as_json and command[0] == "check":
        assert outcome.data["loads"]["air"]["label"] == json.loads(f'"{NASTY} air"').replace(
            "\u2028", " ")
    elif not as_json:
        assert r"\x1b[31mRed\x9b2J\u202edesrever" in "".join(outcome.out.split())


@pytest.mark.parametrize("key", ["id", "kind", "panel", "size", "running", "leg", NASTY])
def test_no_finding_acts_on_the_terminal(planner, home_file, key):
    """Whatever value or key is refused, it is quoted without its effect."""
    written = f'"{key}"' if "\\" in key else key
    outcome = planner("check", home_file(('kind = "furnace blower"', f'{written} = "{NASTY}"')))
    assert outcome.code == 2
    assert ACTING.findall(outcome.out + outcome.err) == []
    data = planner("check", home_file(('kind = "furnace blower"', f'{written} = "{NASTY}"')),
                   "--json")
    assert ACTING.findall(data.out) == []
    assert data.data["error"]["findings"]


@pytest.mark.parametrize("arguments", [
    ("{}",), ("check", "{}"), ("check", "--{}", "x"), ("demand", "{home}", "--load", "{}"),
    ("demand", "{home}", "--edition", "{}"), ("plan", "{home}", "--coverage", "{}"),
    ("plan", "{home}", "--coverage={}"), ("plan", "{home}", "--budget", "{} USD"),
    ("simulate", "{home}", "--hours", "{}"), ("simulate", "{home}", "--seeds", "{}"),
    ("simulate", "{home}", "--start={}"), ("app", "--port", "{}")])
@pytest.mark.parametrize("value", ["\x1b[31mred\x07", "9" * 5000, "x" * 100_000, "\u202ex\udcff"])
def test_no_argument_acts_on_the_terminal_or_fills_it(planner, home_file, arguments, value):
    """Messages about arguments quote what they need of them."""
    home = str(home_file())
    outcome = planner(*[one.replace("{home}", home).replace("{}", value) for one in arguments])
    assert outcome.code == 2
    assert ACTING.findall(outcome.out + outcome.err) == []
    outcome.err.encode("utf-8")
    assert len(outcome.err) < 1500


@pytest.mark.parametrize(("arguments", "allowed"), [
    (("plan", "--coverage", "101 %"), "from 0 % to 100 %"),
    (("plan", "--coverage", "-1 %"), "from 0 % to 100 %"),
    (("plan", "--budget", f"{'9' * 200} USD"), "from 0 USD to 10000000 USD"),
    (("plan", "--budget", f"{'9' * 500} USD"), "from 0 USD to 10000000 USD"),
    (("simulate", "--hours", "nan"), "from 0.1 to 720"),
    (("simulate", "--hours", "inf"), "from 0.1 to 720"),
    (("simulate", "--hours", "0.000001"), "from 0.1 to 720"),
    (("simulate", "--start", "nan"), "from 0 to 23.999"),
    (("simulate", "--start", "24"), "from 0 to 23.999"),
    (("simulate", "--seeds", "0"), "1<=x<=100000"),
])
def test_an_option_out_of_range_is_told_the_range(planner, home_file, arguments, allowed):
    """Infinity and nan are out of every range."""
    command, *rest = arguments
    outcome = planner(command, home_file(), *rest)
    assert outcome.code == 2
    assert allowed in " ".join(outcome.err.split())


def test_a_drawn_terminal_has_no_sign_of_a_file_in_it():
    """Where the planner itself colours its text, what a label says stays text."""
    stream = io.StringIO()
    drawn = Harmless(file=stream, force_terminal=True, width=100, markup=False,
                     highlight=False)
    drawn.print("a\x1b[31mb", style="bold")
    assert r"a\x1b[31mb" in stream.getvalue()
    assert "\x1b[31m" not in stream.getvalue()
    assert isinstance(console(stream), Harmless)


def test_what_is_quoted_keeps_its_beginning():
    """At most sixty characters and an ellipsis; what is short stays whole."""
    assert quoted("a" * 60) == f'"{"a" * 60}"'
    assert quoted("ab" * 5000) == f'"{"ab" * (MOST_QUOTED // 2)}…"'
    assert quoted("two\nlines") == r'"two\nlines"'
    assert quoted(0x10**5000) == "a number of thousands of digits"
    assert quoted(10**4000) == f"1{'0' * 59}…"
    assert shortened("word " * 30, 10) == "word word…"
    assert harmless("naïve ☂ 日本 \u200d👩") == "naïve ☂ 日本 \u200d👩"


def test_json_means_the_same_without_acting_signs():
    """The signs are written by their numbers, as JSON allows."""
    data = {"a\x9b": ["\x7f\u202e\u2028", "é"], "b": 1}
    text = harmless_json(json.dumps(data, ensure_ascii=False, indent=1))
    assert json.loads(text) == data
    assert ACTING.findall(text) == []
    assert "é" in text
