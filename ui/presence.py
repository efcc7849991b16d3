"""Whether the browser of a visitor is still connected."""

from __future__ import annotations

from collections.abc import Callable

from streamlit import runtime
from streamlit.runtime.scriptrunner import get_script_run_ctx


def presence() -> Callable[[], bool]:
    """Give a function that tells whether the visitor who is drawing a page now is still there.

    A visitor is there while the server has a connection to the browser's tab: it ends within a
    second when the tab is closed or loaded anew, and comes back under the same name if the line
    was only broken. Two other ways were left aside. The state of a session is kept for minutes
    after its end, in case the browser comes back, so its clean-up comes too late. A page that
    reports now and then goes silent in a tab that is merely hidden, because browsers slow the
    clocks of hidden tabs down.

    Outside of a server everybody is there.
    """
    here = get_script_run_ctx()
    if here is None:
        return lambda: True
    name = here.session_id
    return lambda: not runtime.exists() or runtime.get_instance().is_active_session(name)
