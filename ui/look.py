"""How the pages look beyond the theme: text on coloured ground, large type, paper."""

from __future__ import annotations

import streamlit as st

# Text on the theme's own colour is white on the dark brown of the light scheme and nearly black on
# the light brown of the dark one: the page itself would write white on both.
_STYLE = """
<style>
[data-testid="stBaseButton-primary"]:not(:disabled),
[data-testid="stBaseButton-primary"]:not(:disabled) p,
[data-baseweb="tag"], [data-baseweb="tag"] span { color: light-dark(#ffffff, #12100b) !important; }
[data-baseweb="tag"] svg { fill: light-dark(#ffffff, #12100b) !important; }
[data-testid="stPageLink-NavLink"]:focus-visible, [data-testid="stTopNavLink"]:focus-visible {
  outline: 3px solid currentColor; outline-offset: 2px; }
[data-testid="stDataFrame"]:focus-within, [data-baseweb="input"]:focus-within,
[data-baseweb="textarea"]:focus-within {
  outline: 3px solid light-dark(#7a3b12, #e9a66f); outline-offset: 2px; }
[data-stale="true"] { opacity: 1 !important; }  /* what is out of date is said in words */
[class*="st-key-only-on-paper"] { display: none; }
.st-key-options [data-testid="stHeaderActionElements"] { display: none; }  /* no link to a price */
.st-key-curve-place { min-height: 20rem; }
[data-testid="stMainBlockContainer"]:has(.st-key-options) { padding: 4rem 5rem 1.5rem; }
.st-key-beside { min-height: 2.8rem; }  /* work ends without a jump */
[class*="st-key-waiting-"] { opacity: 0.7; }
[class*="st-key-card-"], [class*="st-key-chosen-"], [class*="st-key-waiting-"],
[class*="st-key-without-"] { min-height: 23rem; }  /* so that they hardly grow while found */
.st-key-cards p { font-size: 0.9rem; }
[class*="st-key-chosen-"] { border: 2px solid light-dark(#7a3b12, #e9a66f) !important; }
[class*="st-key-without-"] { border-style: dashed !important; }
[class*="st-key-chosen-"] h3, [class*="st-key-card-"] h3, [class*="st-key-waiting-"] h3 {
  padding: 0 0 0.4rem 0; }
@media (max-width: 1000px) {
  [data-testid="stMainBlockContainer"]:has(.st-key-options) { padding: 4rem 1.5rem 1.5rem; }
  .st-key-options [data-testid="stColumn"] { min-width: 100%; }
  .st-key-cards [data-testid="stColumn"] { min-width: calc(50% - 1rem); }
}
.st-key-family p, .st-key-family li { font-size: 1.2rem; }
@media print {
  [data-testid="stProgress"], [data-testid="stAlert"] button,
  header, [data-testid="stToolbar"], [data-testid="stHeader"],
  [class*="st-key-not-on-paper"] { display: none !important; }
  .stApp, .stApp * { color: #000 !important; background: #fff !important; }
  [data-testid="stAppViewContainer"], [data-testid="stMain"], .stApp {
    position: static !important; overflow: visible !important; height: auto !important;
    min-height: 0 !important; }
  html, body, #root { height: auto !important; min-height: 0 !important; }
  [class*="st-key-only-on-paper"] { display: block !important; }
}
</style>
"""


def set_look() -> None:
    """Put the style on the page; nothing of a file is in it."""
    st.html(_STYLE)
