"""The page of the site: the drawings of the recommended plan."""

from __future__ import annotations

from base64 import b64decode

from defusedxml.ElementTree import fromstring

from tests.ui.opening import SMALL, demo_text, left, on_the_table, opened, settled

HEAD = "data:image/svg+xml;base64,"
NASTY = "</svg><script>alert(1)</script> & <b>"


def test_both_drawings_stand_on_the_page_as_pictures():
    """Each with words for who does not see it, and only as an image, in which nothing acts."""
    text = demo_text(SMALL).replace('label = "Small house with gas heat"', f'label = "{NASTY}"')
    assert NASTY in text
    found = on_the_table(SMALL, text)
    at = opened(found, "site")
    settled(at)
    assert not at.exception
    pictures = [one.proto.imgs[0] for one in at.get("image")]
    assert len(pictures) == 2
    for picture in pictures:
        assert picture.url.startswith(HEAD)
        drawing = fromstring(b64decode(picture.url.removeprefix(HEAD)))
        assert NASTY in "".join(drawing.itertext())
        assert NASTY in picture.alt
    saved = [one.proto.label for one in at.get("download_button")]
    assert saved.count("Save it as a file") == 2
    left(found)
