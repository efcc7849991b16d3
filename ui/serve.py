"""The front end for several visitors: every browser has jobs of its own, told by a cookie.

``planner app --visitors`` serves this. The cookie holds a random token and nothing else; the store
knows only its digest. Scripts cannot read it, and other sites do not send it.
"""

from __future__ import annotations

import secrets
from http.cookies import SimpleCookie
from pathlib import Path

import streamlit as st
from starlette.datastructures import MutableHeaders
from starlette.middleware import Middleware
from starlette.requests import HTTPConnection
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from ui.keeping import COOKIE

LASTS_S = 400 * 24 * 3600  # as long as browsers keep a cookie (RFC 6265bis, section 5.5)
TOKEN_BYTES = 32


class VisitorCookie:
    """Gives every browser that has none a token, with the page itself.

    Not with what belongs to the page: what stands between may keep that for others.
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Answer as the page does, with the cookie where it is missing."""
        if scope["type"] != "http" or COOKIE in HTTPConnection(scope).cookies:
            await self.app(scope, receive, send)
            return

        async def with_cookie(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                if headers.get("content-type", "").startswith("text/html"):
                    headers.append("set-cookie", cookie_for(scope))
                    headers["cache-control"] = "no-store"
            await send(message)

        await self.app(scope, receive, with_cookie)


def cookie_for(scope: Scope) -> str:
    """Write a new cookie; over a line that is encrypted it is sent on no other."""
    asked = HTTPConnection(scope)
    cookie = SimpleCookie({COOKIE: secrets.token_hex(TOKEN_BYTES)})
    cookie[COOKIE].update({"path": "/", "max-age": str(LASTS_S), "samesite": "Lax"})
    cookie[COOKIE]["httponly"] = True
    if "https" in (asked.url.scheme, asked.headers.get("x-forwarded-proto", "")):
        cookie[COOKIE]["secure"] = True
    return cookie[COOKIE].OutputString()


app = st.App(Path(__file__).with_name("app.py"), middleware=[Middleware(VisitorCookie)])
