"""The drawings as SVG: whole, readable, and with nothing in them that acts."""

from __future__ import annotations

from dataclasses import replace
from xml.etree.ElementTree import ParseError

import pytest

from planner.report.cautions import NOT_A_PERMIT_DRAWING, ON_A_DRAWING
from planner.report.site.drawings import drawings
from planner.site.drawing.canvas import Canvas
from planner.site.drawing.lettering import fitted, width_px, wrapped
from tests.site.drawn import WIDTHS, Drawn, letter
from tests.site.places import KNOWN, plan_at
from tests.site.plans import MADE, plan_called

HOSTILE = (
    '"><script>alert(1)</script>', "a & b < c > d ]]> '",
    "\N{FIRE}\N{ZERO WIDTH JOINER}\N{DOG}" * 40, "W" * 120,
    "two\nlines\tand \x1b[31m\x00red", "\ufffe\uffff\ud800 half", "x" + "\u0301" * 90,
    "&#x202e;\u202eturned round", "家" * 80, "]]><![CDATA[<image href='http://a.invalid'/>")


def drawn(plan):
    """Give the one-line and the sketch of a plan, read back."""
    return [Drawn(one.svg) for one in drawings(plan)]


def renamed(plan, label):
    """Give a plan whose home, loads and equipment are called so."""
    home = plan.menu.house.home
    home = replace(home, label=label,
                   loads=tuple(replace(load, label=label) for load in home.loads))
    generator = replace(plan.supply.generator, label=label)
    menu = replace(plan.menu, house=replace(plan.menu.house, home=home), generator=generator,
                   transfers=tuple(replace(one, label=label) for one in plan.menu.transfers))
    return replace(plan, menu=menu, supply=replace(plan.supply, generator=generator))


@pytest.mark.parametrize("name", MADE)
def test_no_text_lies_on_anything(name):
    """Texts keep clear of each other, of lines and of the edges of boxes, and all on the paper."""
    for one in drawn(plan_called(name)):
        assert one.faults() == []
        assert len(one.texts) > 20


@pytest.mark.parametrize("label", HOSTILE, ids=range(len(HOSTILE)))
def test_text_of_strangers_is_only_text(label):
    """Whatever a label holds, the drawing parses, has no part that acts, and nothing overlaps."""
    for one in drawn(renamed(plan_at(KNOWN), label)):
        names = {part.tag.rpartition("}")[2] for part in one.root.iter()}
        assert names <= {"svg", "title", "desc", "rect", "polyline", "circle", "text"}
        assert not any(key.startswith("on") or "href" in key
                       for part in one.root.iter() for key, _ in part.items())
        assert one.faults() == []


def test_a_label_is_shown_as_it_stands():
    """What markup would eat is written, and read back the same."""
    for one in drawn(renamed(plan_at(KNOWN), "Tom & <Jerry>")):
        assert one.words[0].endswith("Tom & <Jerry>")
        assert "Tom & <Jerry>" in one.child("title")


def test_the_check_for_overlaps_can_fail():
    """Two lines at one place, a line through a word and a word over an edge are all found."""
    canvas = Canvas(200.0)
    canvas.text(20.0, 40.0, "one word")
    canvas.text(24.0, 44.0, "another")
    canvas.line([(20.0, 36.0), (90.0, 36.0)])
    canvas.box(20.0, 60.0, 30.0, 20.0)
    canvas.text(24.0, 74.0, "far too long for it, and for the paper")
    kinds = {fault[0] for fault in Drawn(canvas.finished("a", "b")).faults()}
    assert kinds == {"on each other", "on a line", "across a box", "off the paper"}


def test_the_parser_can_refuse():
    """A drawing whose escape is undone is none any more."""
    svg = drawings(renamed(plan_at(KNOWN), "a & b"))[0].svg
    with pytest.raises(ParseError):
        Drawn(svg.replace("&amp;", "&"))


@pytest.mark.parametrize("name", MADE)
def test_each_drawing_says_what_it_is_and_is_not(name):
    """Home, plan, what it is for, the cautions; and all of it in words for who does not see it."""
    plan = plan_called(name)
    home = plan.menu.house.home
    for one in drawn(plan):
        head = " ".join(one.words[:8])
        assert home.label in head
        assert plan.supply.generator.label in head
        assert NOT_A_PERMIT_DRAWING in head
        assert ON_A_DRAWING in head
        assert home.label in one.child("title")
        assert NOT_A_PERMIT_DRAWING in one.child("desc")
        assert one.root.get("role") == "img"


def test_black_on_white_and_large_enough():
    """No colour carries a meaning; the smallest letters are 11 px."""
    for one in drawn(plan_called("town")):
        parts = list(one.root.iter())
        colours = {part.get(key) for part in parts for key in ("fill", "stroke")} - {None, "none"}
        assert colours == {"#000", "#fff"}
        assert min(float(part.get("font-size")) for part in parts if part.get("font-size")) >= 11.0


def test_the_one_line_shows_each_load_that_is_connected():
    """Names of connected loads and each priority stand on it; of what is off the number."""
    plan = plan_called("town")
    one, _ = drawn(plan)
    off = [part for part in plan.loads if part.connection == "off"]
    for part in plan.loads:
        assert (part.label in one.words) == (part.connection != "off"), part.label
        if part.priority is not None:
            assert one.words.count(f"Priority {part.priority}") == 1
    assert any(text.startswith(f"Not drawn, as off standby power: {len(off)} ")
               for text in one.words)


def test_room_is_kept_for_broad_letters():
    """No letter is taken for narrower than it is in a broad face (measured: DejaVu Sans)."""
    assert [sign for signs in WIDTHS.values() for sign in signs
            if width_px(sign, 1.0) < letter(sign) - 1e-9] == []


@pytest.mark.parametrize("most", [0.0, 5.0, 40.0, 200.0])
@pytest.mark.parametrize("text", [*HOSTILE, "", "a few plain words"])
def test_a_cut_text_fits(text, most):
    """No line is wider than its room, but for the sign that it was cut."""
    least = width_px("…", 11.0)
    assert width_px(fitted(text, most, 11.0), 11.0) <= max(most, least)
    lines = wrapped(text, most, 11.0, 3)
    assert 1 <= len(lines) <= 3
    assert all(width_px(line, 11.0) <= max(most, least) for line in lines)


def test_drawings_do_not_change_by_themselves():
    """Same plan, same bytes."""
    plan = plan_called("known")
    assert [one.svg for one in drawings(plan)] == [one.svg for one in drawings(plan)]
