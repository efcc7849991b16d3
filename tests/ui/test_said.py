"""What a file says is plain text on a page: no icon, no markup, no sign that acts."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.ui.opening import unescaped
from ui.parts.said import JOINER, plain

EMOJI = re.compile(r":[\w+-][\w+-]*:|:material[/_]\w+:|:streamlit:")
ARROWS = re.compile(r"(^|\s)(<->|->|<-|--|>=|<=|~=)(\s|$)")


def seen(text):
    """What the page shows of a text: its escapes read, before it makes icons and arrows of it."""
    return unescaped(plain(text))


@pytest.mark.parametrize("text", [
    ":material/home:", ":rocket:", ":+1:", ":-1:", "x:streamlit:y", ":a::b:", "a -> b", "-> b",
    "a <-> b -- c", ">= 3", "~= 3 <= 4", "::rocket::"])
def test_signs_that_would_become_pictures_are_taken_apart(text):
    """The joiner between their characters is not seen; the rest is as it was written."""
    assert not EMOJI.search(seen(text))
    assert not ARROWS.search(seen(text))
    assert seen(text).replace(JOINER, "") == text


@pytest.mark.parametrize("text", ["12:30", "a: b", "3-4", "x->y", "50 gal", "range, 12 kW"])
def test_plain_words_have_no_joiner(text):
    """What means nothing to the page can be copied from it as it is."""
    assert seen(text) == text


@given(st.text(alphabet=":abc+-_/<>=~ \n\t123*[]$`\\", max_size=30))
def test_any_text_is_read_back_without_pictures(text):
    """On one line, as it was written, and nothing in it that the page would replace."""
    assert not EMOJI.search(seen(text))
    assert not ARROWS.search(seen(text))
    assert seen(text).replace(JOINER, "") == " ".join(text.split())


@given(st.text())
def test_no_sign_of_any_text_acts(text):
    """Control characters and turned directions are written by their numbers."""
    assert not re.search("[\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", plain(text))
