"""Sentences on a page: text of a file is shown as it stands, never read as markup."""

from __future__ import annotations

import re

import streamlit as st

from planner.quoting import harmless

JOINER = "\N{WORD JOINER}"  # not seen; keeps addresses from becoming links, signs from icons
_SIGN = re.compile(r":(?=[\w+\-/]+:)|(?<!\S)(?:<(?=->?(?!\S))|-(?=[->](?!\S))|[<>~](?==(?!\S)))")
_ADDRESS = re.compile(r"://|\bwww\.|\S@", re.IGNORECASE)
_MARKS = re.compile(r"([\\`*_{}\[\]()#+\-.!|<>~$:&^=])")


def plain(text: str) -> str:
    """Write text so that no character of it means anything to the page.

    Marks of markup are escaped. What the page makes something else of once the markup is read, an
    icon of ``:rocket:``, an arrow of ``->``, is taken apart by a joiner that is not seen.
    """
    line = harmless(" ".join(text.split()))
    apart = _ADDRESS.sub(lambda match: f"{match[0][:-1]}{JOINER}{match[0][-1]}", line)
    apart = _SIGN.sub(lambda match: f"{match[0]}{JOINER}", apart)
    return _MARKS.sub(r"\\\1", apart)


def say(*sentences: str) -> None:
    """Write sentences, one below the other."""
    for sentence in sentences:
        st.markdown(plain(sentence))


def points(sentences: tuple[str, ...] | list[str]) -> None:
    """Write sentences as a list."""
    st.markdown("\n".join(f"- {plain(sentence)}" for sentence in sentences))


def strong(text: str) -> None:
    """Write a line that stands out."""
    st.markdown(f"**{plain(text)}**")


def aside(*sentences: str) -> None:
    """Write sentences in small type."""
    for sentence in sentences:
        st.caption(plain(sentence))
