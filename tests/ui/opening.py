"""Opening pages without a browser: a home on the table, a page drawn, and everything it says."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pandas as pd
from streamlit.testing.v1 import AppTest

from ui.demos import demo_text
from ui.parts.said import JOINER
from ui.session import Session
from ui.state import KEY

ROOT = Path(__file__).parents[2]
CASES = ROOT / "cases"
PAGES = ("home", "wishes", "options", "outage", "site", "portable", "price_book", "family",
         "jobs")
WORK = ("recommended", "recommended for sure", "options", "curve", "pins", "outage plan",
        "reference", "wishes", "reasons", "smaller", "doubts", "outage", "outages", "confidence",
        "by hand", "exact curve")
MOST_S = 120.0
IN_A_CHAIN = 4  # answers of a page each of which is asked for when the one before is there
SMALL = "gas_heated_small.toml"
_UNPROMISED = """
[[comforts]]
id = "house"
must_run = false
promise = "none"

[[comforts]]
id = "meals"
promise = "none"
"""
_ESCAPED = re.compile(r"\\([\\`*_{}\[\]()#+\-.!|<>~$:&^=])")


def on_the_table(name: str = "suburban.toml", text: str | None = None) -> Session:
    """Put a home of `cases`, or a text under a name, on the table of a new visitor."""
    found = Session()
    found.open_home(name, demo_text(name) if text is None else text)
    return found


def two_plans() -> tuple[str, str]:
    """Name and text of a small home without promises: a smaller generator does for less of it."""
    text = demo_text(SMALL).replace("must_run = true                # in an ice", "# in an ice")
    return "two_plans.toml", text + _UNPROMISED


def opened(found: Session, page: str = "home") -> AppTest:
    """Open a page for a visitor and draw it once."""
    at = AppTest.from_file(str(ROOT / "ui/app.py"), default_timeout=MOST_S)
    at.session_state[KEY] = found
    at.run()
    return turned(at, page) if page != "home" else at


def turned(at: AppTest, page: str) -> AppTest:
    """Turn to another page and draw it once."""
    return at.switch_page(f"views/{page}.py").run()


def settled(at: AppTest, *, leaving: tuple[str, ...] = ()) -> AppTest:
    """Draw a page until nothing is in work any more; what is in `leaving` is not waited for."""
    end_s = time.monotonic() + MOST_S
    found, idle = visitor(at), 0
    while idle < IN_A_CHAIN:  # work may end between the drawing of its progress and the look
        at.run()
        idle = 0 if _busy(found, leaving) else idle + 1
        if not at.get("progress"):
            break
        while _busy(found, leaving):
            assert time.monotonic() < end_s, "the work does not end"
            time.sleep(0.02)
    return at


def left(found: Session) -> None:
    """Stop all work of a visitor, so that the next test has the machine to itself."""
    for name in WORK:
        found.desk.leave(name)


def visitor(at: AppTest) -> Session:
    """Give what the visitor has on the table."""
    found = at.session_state[KEY]
    assert isinstance(found, Session)
    return found


def unescaped(text: str) -> str:
    """Read text as the page shows it, without the signs that keep it from being markup."""
    return _ESCAPED.sub(r"\1", text)


def markup(at: AppTest) -> tuple[str, ...]:
    """Give every text of a page that is read as markup, as it was written; choice lists are not."""
    return tuple(_texts(at, plain_options=False))


def said(at: AppTest) -> str:
    """Give everything that a page says, tables and labels included, on one line each."""
    written = (unescaped(str(cell)) for table in at.table for cell in _cells(table.value))
    tables = [*(str(cell) for table in at.dataframe for cell in _cells(table.value)), *written]
    texts = [unescaped(text).replace(JOINER, "") for text in _texts(at)]
    return "\n".join(texts + tables)


def told(at: AppTest) -> str:
    """Give what a page says outside of its tables, as it is seen."""
    return "\n".join(unescaped(text) for text in _texts(at)).replace(JOINER, "")


def keys(at: AppTest, kind: str = "button") -> tuple[str, ...]:
    """Give the keys of all widgets of a kind on the page."""
    return tuple(str(one.key) for one in at.get(kind) if one.key)


def _busy(found: Session, leaving: tuple[str, ...]) -> bool:
    for name in leaving:
        found.desk.leave(name)
    return found.desk.busy


def _texts(at: AppTest, *, plain_options: bool = True) -> Iterator[str]:
    for node in at.main:
        for name in ("label", "text", "help", "placeholder"):
            text = _attribute(node, name)
            if isinstance(text, str) and text:
                yield text
        if node.type in ("button_group", "radio") or (
                plain_options and node.type in ("selectbox", "multiselect")):
            yield from map(str, node.options)
        elif node.type in ("markdown", "caption", "title", "header", "subheader", "error", "info",
                           "warning", "success", "metric", "html", "page_link"):
            yield str(node.value)


def _attribute(node: Any, name: str) -> object:
    try:
        return getattr(node, name, None)
    except (AttributeError, KeyError, ValueError):
        return None


def _cells(frame: pd.DataFrame) -> Iterator[object]:
    yield from frame.columns
    yield from frame.to_numpy().ravel()
