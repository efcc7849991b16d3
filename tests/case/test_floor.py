"""What covers the floor is as large as the floor of the home, unless the file says otherwise."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.case.library import kinds
from planner.case.read import read_home_text
from planner.errors import CaseError
from planner.physics.demand import calculated_load
from tests.case.files import HEAD, load_text

COVER = [kind.name for kind in kinds().values() if kind.covers_floor]
RESTS = [kind.name for kind in kinds().values() if not kind.covers_floor
         and any(option.default is not None for option in kind.sizes)]


def covering(kind, *lines, area="1800 ft^2"):
    """The one load of a home with this floor area."""
    text = HEAD.replace('"1800 ft^2"', f'"{area}"') + load_text("it", kind, *lines)
    return read_home_text(text, "house.toml")[0].load("it")


def size_assumed(load):
    """What was assumed about a size, if anything: its text and its source."""
    return [(one.text, one.source, one.spread) for one in load.assumed if one.key == "size"]


def test_something_covers_the_floor():
    """Lighting does (220.41 counts it by the area), and its size is an area."""
    assert "lighting and receptacles" in COVER
    assert {kinds()[name].sizes[0].unit for name in COVER} == {"ft^2"}


@pytest.mark.parametrize("kind", COVER)
def test_the_floor_area_is_the_size(kind):
    """It is marked as assumed, without a doubt of its own, and draws as if the file had said it."""
    assumed, given_ = covering(kind), covering(kind, 'size = "1800 ft^2"')
    assert size_assumed(assumed) == [("1800 ft^2", "the floor area of the home", 0.0)]
    assert size_assumed(given_) == []
    assert (assumed.running_kw, assumed.code.va) == (given_.running_kw, given_.code.va)


def test_lighting_counts_three_volt_amperes_for_each_square_foot():
    """3 VA/ft^2 (NEC 220.41, 2023): 1800 ft^2 are 5400 VA."""
    assert covering("lighting and receptacles").code.va == pytest.approx(5400.0)


@pytest.mark.parametrize("kind", COVER)
def test_a_size_of_the_file_wins(kind):
    """A wing of its own may have its lighting counted apart."""
    load = covering(kind, 'size = "600 ft^2"')
    assert size_assumed(load) == []
    assert load.code.va == pytest.approx(covering(kind, area="600 ft^2").code.va)


@pytest.mark.parametrize("kind", COVER)
def test_a_refused_size_is_not_replaced(kind):
    """Of a size that cannot be read, the reader hears; it is not passed over for the floor area."""
    for size in ('"5 kW"', '"many"', "3"):
        with pytest.raises(CaseError) as caught:
            covering(kind, f"size = {size}")
        assert ["size" in one.where for one in caught.value.findings
                if one.severity == "error"] == [True]


@pytest.mark.parametrize("kind", COVER)
@settings(max_examples=30)
@given(area=st.integers(100, 30_000))
def test_the_size_stays_within_the_range_of_the_kind(kind, area):
    """A tiny or a huge floor counts as the smallest or the largest that the kind has."""
    option = kinds()[kind].sizes[0]
    try:
        load = covering(kind, area=f"{area} ft^2")
    except CaseError as problem:
        assert all("floor_area" in one.where for one in problem.findings  # noqa: PT017
                   if one.severity == "error")
        return
    within = min(max(float(area), option.low), option.high)
    assert size_assumed(load)[0][0] == f"{within:g} ft^2"
    assert load.running_kw == pytest.approx(option.running.at(within))


@pytest.mark.parametrize("kind", RESTS)
def test_nothing_else_takes_its_size_from_the_floor(kind):
    """A freezer is no larger in a larger house."""
    small, large = covering(kind, area="800 ft^2"), covering(kind, area="6000 ft^2")
    assert size_assumed(small) == size_assumed(large)
    assert small.running_kw == large.running_kw


BARN = load_text("barn", "lighting and receptacles", 'size = "600 ft^2"')


def lines_of(*loads, edition="2023"):
    """Lines of the sheet of a home of 1800 ft^2, its total, and its findings about the area."""
    text = HEAD.replace('edition = "2023"', f'edition = "{edition}"') + "".join(loads)
    sheet = calculated_load(read_home_text(text, "house.toml")[0])
    return ({line.text: line.va for line in sheet.lines}, sheet.total_va,
            [one.sentence for one in sheet.findings if one.where == "home.floor_area"])


@pytest.mark.parametrize("house", [[], ['size = "1800 ft^2"']])
@pytest.mark.parametrize(("edition", "each_va"), [("2020", 3.0), ("2023", 3.0), ("2026", 2.0)])
def test_lighting_beyond_the_floor_counts_too(house, edition, each_va):
    """A barn is no part of the floor area (220.14(J), 220.41), yet it is lit: 600 ft^2 count.

    At the rate of a dwelling, the safe side (derived); a finding names the area.
    """
    lights = load_text("it", "lighting and receptacles", *house)
    alone, alone_va, silent = lines_of(lights, edition=edition)
    lines, total_va, said = lines_of(lights, BARN, edition=edition)
    name = f"Lighting beyond the floor area, 600 ft² at {each_va:g} VA/ft²"
    assert name not in alone
    assert lines[name] == pytest.approx(600.0 * each_va)
    assert total_va > alone_va
    assert silent == []
    assert ["600 ft²" in sentence for sentence in said] == [True]


def test_a_house_in_parts_counts_once():
    """1200 and 600 ft^2 of a home of 1800 ft^2, or two loads without a size, are its floor."""
    wing = load_text("wing", "lighting and receptacles", 'size = "1200 ft^2"')
    twice = [load_text(name, "lighting and receptacles") for name in ("up", "down")]
    whole = lines_of(load_text("it", "lighting and receptacles"))
    assert lines_of(wing, BARN) == lines_of(*twice) == whole
