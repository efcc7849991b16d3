"""Everyday words lead to one kind of the library, and a size in any usual unit to one it takes."""

from __future__ import annotations

import tomllib
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.case.library import kinds
from planner.editing.everyday import (
    asked_of,
    kind_named,
    kinds_like,
    load_in_words,
)
from planner.editing.lists import read_list
from planner.units import magnitude, parse
from tests.case.files import read_load

SAID = tomllib.loads(files("planner.editing").joinpath("everyday.toml").read_text("utf-8"))
NAMES = [(name, kind) for kind, names in SAID.items() for name in names]



def loads_in_words(line):
    """The rows of a list of one line."""
    return list(read_list(line).rows)


@pytest.mark.parametrize("kind", list(kinds()))
def test_every_kind_is_found_by_its_own_name(kind):
    """However it is written: in small letters, in capitals, between other words."""
    assert kind_named(kind) == kind
    assert kind_named(kind.upper()) == kind
    assert kind_named(f"  the upstairs   {kind}, ") == kind
    assert kinds_like(kind)[0] == kind


@pytest.mark.parametrize(("name", "kind"), NAMES)
def test_every_everyday_name_leads_to_a_kind_that_exists(name, kind):
    """The name in small letters means the kind under which it stands, and no other."""
    assert kind in kinds()
    assert name == " ".join(name.casefold().split())
    assert kind_named(name) == kind
    assert kind_named(f"Main {name.title()}") == kind
    assert kind_named(f"{name}s") == kind


def test_no_name_means_two_kinds():
    """Neither two everyday names nor an everyday name and the name of another kind are alike."""
    names = [name for name, _ in NAMES]
    assert sorted(set(names)) == sorted(names)
    assert set(names).isdisjoint(kinds())


@pytest.mark.parametrize(("words", "kind"), [
    ("heat pump water heater", "heat pump water heater"), ("gas dryer", "gas dryer"),
    ("hair dryer", "hair dryer"), ("pool heater", "pool heater"), ("pool", "pool pump"),
    ("garage fridge", "refrigerator"), ("dryer in the garage", "electric dryer")])
def test_the_longest_name_counts(words, kind):
    """A name that holds another one means its own kind, not the shorter one's."""
    assert kind_named(words) == kind


@pytest.mark.parametrize("words", ["", "  ", "!?", "time machine", "acrobat", "wellness", "tvset"])
def test_what_nobody_calls_so_is_nothing(words):
    """Part of a word is no name."""
    assert kind_named(words) is None


@given(st.text())
def test_any_words_mean_a_kind_or_nothing(words):
    """No text is too odd to be asked about; letters large or small mean the same."""
    found = kind_named(words)
    assert found is None or found in kinds()
    close = kinds_like(words, most=2)
    assert len(close) <= 2
    assert len(set(close)) == len(close)
    assert set(close) <= set(kinds())


def test_names_that_look_alike_are_offered_the_closest_first():
    """A slip of the pen finds its kind; nonsense finds none; never more than asked for."""
    assert kinds_like("refridgerator")[0] == "refrigerator"
    assert kinds_like("diswasher")[0] == "dishwasher"
    assert kinds_like("zzzzqqqq") == ()
    assert len(kinds_like("heat pump")) == 3
    assert len(kinds_like("heat pump", most=1)) == 1


@pytest.mark.parametrize(("line", "kind", "size", "label"), [
    ("central air, 3.5 ton", "central air conditioner", "3.5 ton", "Central air"),
    ("3-ton AC", "central air conditioner", "3 ton", "AC"),
    ("upstairs central air 2.5 tons", "central air conditioner", "2.5 ton", "Upstairs central air"),
    ("36,000 BTU AC", "central air conditioner", "3 ton", "AC"),
    ("36 kBtu/h central air", "central air conditioner", "3 ton", "Central air"),
    ("window ac 10000 btu/h", "room air conditioner", "10 kBtu/h", "Window ac"),
    ("Range, 12,000 W", "range", "12 kW", "Range"),
    ("4500 watt water heater", "electric water heater", "4.5 kW", "Water heater"),
    ("4.5kW water heater", "electric water heater", "4.5 kW", "Water heater"),
    (".5 hp pool pump", "pool pump", "0.5 hp", "Pool pump"),
    ("sump pump 1/3HP", "sump pump", "0.3333 hp", "Sump pump"),
    ("50 gallons hot water", "electric water heater", "50 gal", "Hot water"),
    ("EV charger 48A", "vehicle charger", "48 A", "EV charger"),
    ("2,400 sq ft lights", "lighting and receptacles", "2400 ft^2", "Lights"),
    ("- Microwave (1.2 kW)", "microwave", "1.2 kW", "Microwave")])
def test_a_line_of_a_list_becomes_a_load(line, kind, size, label):
    """1 ton is 12 000 Btu/h by definition, 1 kW 1000 W; the label is what is left of the line."""
    assert load_in_words(line) == {"kind": kind, "size": size, "label": label}


@pytest.mark.parametrize("line", ["fridge", "2 fridges", "fridge 5", "fridge 3 tonnes",
                                  "fridge v2.5kw3", "fridge 12 awnings"])
def test_a_number_without_a_unit_is_no_size(line):
    """What only looks like a size is left alone, in the label."""
    found = load_in_words(line)
    assert "size" not in found
    assert found["label"].casefold() == line


def test_words_that_mean_no_kind_stay_as_they_are():
    """Nothing of the list is lost: the words stand as the kind, the size beside them."""
    assert load_in_words("time machine, 1.21 kW") == {
        "kind": "time machine", "size": "1.21 kW", "label": "Time machine"}
    assert load_in_words("time machine, 60 watts")["size"] == "60 W"
    assert load_in_words("spa, 12,000 Btu/h")["size"] == "12000 Btu/h"
    assert load_in_words("spa, 12 kBtu/h")["size"] == "12 kBtu/h"
    assert "size" not in load_in_words("1/0 hp pool pump")


USUAL = [(kind.name, option.unit, (option.low * option.high) ** 0.5)
         for kind in kinds().values() for option in kind.sizes]


@pytest.mark.parametrize(("kind", "unit", "size"), USUAL)
def test_a_size_in_words_can_be_read_as_a_size_of_the_kind(tmp_path, kind, unit, size):
    """Every kind takes the size written beside its name, whichever of its units it has."""
    row = load_in_words(f"{kind}, {size:.4g} {unit}")
    assert row["kind"] == kind
    assert read_load(tmp_path, kind, f'size = "{row["size"]}"').running_kw > 0.0


@given(st.sampled_from(["W", "watts", "kW", "kilowatts", "Kw"]), st.integers(500, 15_000))
def test_a_power_is_the_same_in_watts_and_kilowatts(unit, watts):
    """A range of so many watts has that size in its own unit, to the four digits written."""
    value = watts / 1000.0 if unit.casefold().startswith("k") else float(watts)
    size = load_in_words(f"range {value:f} {unit}")["size"]
    assert size.endswith(" kW")
    assert magnitude(parse(size, "power"), "W") == pytest.approx(watts, rel=1e-3)


@pytest.mark.parametrize(("line", "size"), [
    ("1 1/2 hp well pump", 1.5), ("well pump 1-1/2 hp", 1.5), ("well pump, 2 1/2 hp", 2.5),
    ("well pump 1,5 hp", 1.5), ("1½ hp well pump", 1.5), ("½ hp well pump", 0.5),
    ("¼ hp well pump", 0.25), ("well pump ¾ hp", 0.75), ("well pump ⅓ hp", 1 / 3),
    ("⅔ hp well pump", 2 / 3), ("2 - 1/2 hp well pump", 2.5), ("11 1/2 hp well pump", 11.5),
    ("1,2345 hp well pump", None)])
def test_a_number_is_read_whole_or_not_at_all(line, size):
    """A whole with a fraction, as on a motor's nameplate, or a decimal comma, is one number."""
    found = load_in_words(line)
    assert found["kind"] == "well pump"
    assert found.get("size") == (None if size is None else f"{size:.4g} hp")


@pytest.mark.parametrize(("line", "size"), [("2 A/C units", None), ("2 a/c, 3 ton", "3 ton"),
                                            ("A/C 3 ton", "3 ton")])
def test_the_a_of_air_conditioning_is_no_ampere(line, size):
    """A count in front of it is no current."""
    found = load_in_words(line)
    assert (found["kind"], found.get("size")) == ("central air conditioner", size)


@pytest.mark.parametrize(("line", "labels", "size"), [
    ("two fridges", ["Fridge 1", "Fridge 2"], None),
    ("fridge x 2", ["Fridge 1", "Fridge 2"], None), ("fridge (2)", ["Fridge 1", "Fridge 2"], None),
    ("baseboard 1500 W x3", ["Baseboard 1", "Baseboard 2", "Baseboard 3"], "1.5 kW"),
    ("2 fridges", ["Fridge 1", "Fridge 2"], None), (" 3 x AC, 3 ton", ["AC 1", "AC 2", "AC 3"],
                                                      "3 ton"),
    ("2x freezer", ["Freezer 1", "Freezer 2"], None), ("2\u00d7 TVs", ["TV 1", "TV 2"], None),
    ("2 A/C units 3 ton", ["A/C 1", "A/C 2"], "3 ton")])
def test_several_alike_are_loads_of_their_own(line, labels, size):
    """A count in front makes that many, numbered, each with the kind and size of one."""
    found = loads_in_words(line)
    assert [row["label"] for row in found] == labels
    assert {row.get("size") for row in found} == {size}
    assert len({row["kind"] for row in found}) == 1
    assert found[0]["kind"] in kinds()


@pytest.mark.parametrize("line", ["fridge", "1 fridge", "2 ton AC", "  2 ton AC", "5kW range",
                                  "2 1/2 hp well pump", "2.5 hp well pump", "240 V dryer",
                                  "2/3 hp well pump", "2-stage heat pump"])
def test_a_size_in_front_is_no_count(line):
    """A line without a count is one load, of the kind and the size that is read by itself."""
    row, = loads_in_words(line)
    alone = load_in_words(line)
    assert (row["kind"], row.get("size")) == (alone["kind"], alone.get("size"))


@pytest.mark.parametrize(("line", "instead"), [
    ("tankless", "gas tankless"), ("tankless water heater", "electric tankless"),
    ("double oven", "2 wall ovens, 5 kW"), ("septic pump", "grinder pump"),
    ("submersible pump, 1 hp", "well pump"), ("whirlpool tub", "spa, 5.5 kW")])
def test_words_that_mean_several_kinds_ask(line, instead):
    """No kind is taken in silence; what is offered instead is read as a kind."""
    assert kind_named(line) is None
    assert instead in asked_of(line)
    for said in asked_of(line):
        assert all(row["kind"] in kinds() for row in loads_in_words(said))


@pytest.mark.parametrize(("line", "kind"), [
    ("electric tankless", "tankless electric water heater"),
    ("gas tankless", "gas tankless water heater"), ("grinder pump", "grinder pump"),
    ("ejector pump", "sewage ejector"), ("geothermal", "geothermal heat pump"),
    ("gas power vent water heater", "power-vent water heater"), ("router", "router"),
    ("home office", "home office")])
def test_words_that_led_to_another_kind_lead_to_their_own(line, kind):
    """A grinder is no small ejector, a router no office."""
    assert kind_named(line) == kind
    assert asked_of(line) == ()


@pytest.mark.parametrize(("line", "keys"), [
    ("EV charger 50 A", {"breaker": "50 A"}), ("EV charger on a 60 A breaker", {"breaker": "60 A"}),
    ("EV charger, 40 amp circuit", {"breaker": "40 A"}), ("EV charger 40 A", {"size": "40 A"}),
    ("EV charger 48 A", {"size": "48 A"})])
def test_the_breaker_of_a_charger_is_no_current(line, keys):
    """A 50 A breaker is a 40 A charger (NEC 625.42): no standard breaker is 125 % of 50 A."""
    row = load_in_words(line)
    assert {key: value for key, value in row.items() if key in ("size", "breaker")} == keys
    assert row["label"] == "EV charger"


@pytest.mark.parametrize(("line", "key", "value"), [
    ("central air, 3 ton, EER 11.5", "eer", 11.5), ("heat pump 3 ton installed 2008", "year", 2008),
    ("AC 3 ton, made in 1998", "year", 1998)])
def test_age_and_efficiency_are_read(line, key, value):
    """They stand in the file as what they are, and not in the name."""
    row = load_in_words(line)
    assert row[key] == value
    assert row["size"] == "3 ton"
    assert not any(figure.isdigit() for figure in row["label"])


@pytest.mark.parametrize(("line", "count", "size"), [
    ("electric furnace, 15 kW", 3, "5 kW"), ("electric furnace", 3, None),
    ("backup heat 10 kW", 2, "5 kW"), ("heat strips, 5 kW", 1, "5 kW"),
    ("backup heat 8 kW", 2, "4 kW")])
def test_electric_heat_becomes_its_stages(line, count, size):
    """Stages of about 5 kW (common practice, no source) are loads of their own, in their order."""
    rows = loads_in_words(line)
    assert [row.get("size") for row in rows] == [size] * count
    assert [row.get("stage") for row in rows] == (
        [f"{place} of {count}" for place in range(1, count + 1)] if count > 1 else [None])
    assert len({row["label"] for row in rows}) == count
