"""The front end: ``streamlit run ui/app.py``. Only says which pages there are."""

from __future__ import annotations

import streamlit as st

from ui.look import set_look
from ui.warm import warm_up

PAGES = {
    "views/home.py": "Home and loads",
    "views/wishes.py": "What matters",
    "views/options.py": "Options",
    "views/outage.py": "The outage",
    "views/site.py": "The site",
    "views/portable.py": "By hand",
    "views/price_book.py": "Price book",
    "views/family.py": "For the family",
    "views/jobs.py": "Jobs",
}

# Pages that another one leads to: no plan stands on them, and the bar has to fit a tablet.
BESIDE = {"views/portable.py"}

st.set_page_config(layout="wide")
set_look()
warm_up()
st.navigation(
    [st.Page(path, title=title, url_path=None if place == 0 else path[6:-3].replace("_", "-"),
             default=place == 0, visibility="hidden" if path in BESIDE else "visible")
     for place, (path, title) in enumerate(PAGES.items())],
    position="top",
).run()
