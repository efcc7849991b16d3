"""`python -m tests.ui.browser.pictures`: take the pictures of the README from the front end."""

from __future__ import annotations

import io

from PIL import Image

from tests.ui.browser import chromium
from tests.ui.browser.server import ROOT, serving
from tests.ui.browser.visitor import Visitor

HOME = "suburban.toml"
WIDE, SCALE = 1180, 0.8  # width of the page in pixels; the picture is that much of it
PICTURES = {"Options": ("options.png", 1500),
            "The outage": ("the_outage.png", 1480)}  # page: file, height in pixels of the page


def main() -> None:
    """Open the suburban home, go to each page, wait until all work is done, take its picture."""
    with serving() as address, chromium.running() as browser:
        for page, (name, high) in PICTURES.items():
            context = browser.new_context(viewport={"width": WIDE, "height": high},
                                          device_scale_factor=2 * SCALE)
            visitor = Visitor(context.new_page(), address).arrive()
            visitor.open_case(HOME)
            visitor.go(page)
            shot = Image.open(io.BytesIO(visitor.page.screenshot())).convert("RGB")
            small = shot.resize((shot.width // 2, shot.height // 2), Image.Resampling.LANCZOS)
            small.save(ROOT / "ui" / "pictures" / name, optimize=True)
            context.close()


if __name__ == "__main__":
    main()
