"""A visitor without a browser: a real connection to the front end, in the protocol of its pages.

A browser needs seconds of a processor for what these visitors do together; this one next to
none, so that many can come at once.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import requests
from streamlit.proto.BackMsg_pb2 import BackMsg
from streamlit.proto.ForwardMsg_pb2 import ForwardMsg
from streamlit.proto.WidgetStates_pb2 import WidgetState
from websockets.sync.client import ClientConnection, connect
from websockets.typing import Subprotocol

PATIENCE_S = 60.0
SHOWN = ForwardMsg.FINISHED_SUCCESSFULLY


@contextmanager
def coming(address: str) -> Iterator[Client]:
    """Connect to the front end; the visitor leaves at the end."""
    with connect(address.replace("http", "ws") + "/_stcore/stream", max_size=None,
                 subprotocols=[Subprotocol("streamlit")]) as line:
        yield Client(address, line)


class Client:
    """One visitor; says something by the methods that return nothing, then `hear` the answer."""

    def __init__(self, address: str, line: ClientConnection) -> None:
        self._address = address
        self._line = line
        self._session = ""
        self._page = ""
        self._pages: dict[str, str] = {}
        self._elements: dict[tuple[int, ...], Any] = {}
        self._set: dict[str, WidgetState] = {}

    def arrive(self) -> None:
        """Ask for the first page, or for the same page again."""
        self._ask()

    def go(self, path: str) -> None:
        """Ask for another page by the end of its address."""
        self._page, self._set = self._pages[path], {}
        self._ask()

    def press(self, label: str) -> None:
        """Press a button."""
        self._ask(WidgetState(id=self._widget("button", label).id, trigger_value=True))

    def write(self, label: str, text: str) -> None:
        """Write a line into a field."""
        state = WidgetState(id=self._widget("text_input", label).id, string_value=text)
        self._set[state.id] = state
        self._ask()

    def bring(self, label: str, name: str, content: bytes) -> None:
        """Bring a file."""
        asked = BackMsg()
        asked.file_urls_request.request_id = name
        asked.file_urls_request.session_id = self._session
        asked.file_urls_request.file_names.append(name)
        self._line.send(asked.SerializeToString())
        while not (answer := self._next()).HasField("file_urls_response"):
            pass
        place = answer.file_urls_response.file_urls[0]
        with requests.Session() as web:
            web.get(f"{self._address}/_stcore/health", timeout=PATIENCE_S)
            token = web.cookies.get("_streamlit_xsrf") or ""
            web.put(self._address + place.upload_url, files={name: content}, timeout=PATIENCE_S,
                    headers={"X-Xsrftoken": token}).raise_for_status()
        state = WidgetState(id=self._widget("file_uploader", label).id)
        state.file_uploader_state_value.uploaded_file_info.add(
            name=name, size=len(content), file_id=place.file_id, file_urls=place)
        self._set[state.id] = state
        self._ask()

    def hear(self) -> str:
        """Wait until the page that was asked for is whole; give all that was sent for it."""
        while True:
            message = self._next()
            kind = message.WhichOneof("type")
            if kind == "new_session":
                self._session = message.new_session.initialize.session_id or self._session
                self._elements = {}
            elif kind == "navigation":
                self._pages = {one.url_pathname: one.page_script_hash
                               for one in message.navigation.app_pages}
            elif kind == "delta":
                self._elements[tuple(message.metadata.delta_path)] = message.delta
            elif kind == "script_finished" and message.script_finished == SHOWN:
                return "\n".join(map(str, self._elements.values()))

    def _ask(self, *also: WidgetState) -> None:
        asked = BackMsg()
        asked.rerun_script.page_script_hash = self._page
        asked.rerun_script.widget_states.widgets.extend([*self._set.values(), *also])
        self._line.send(asked.SerializeToString())

    def _next(self) -> ForwardMsg:
        message = ForwardMsg()
        message.ParseFromString(self._line.recv(PATIENCE_S, decode=False))
        return message

    def _widget(self, kind: str, label: str) -> Any:
        for delta in self._elements.values():
            if delta.WhichOneof("type") == "new_element":
                element = delta.new_element
                if element.WhichOneof("type") == kind and getattr(element, kind).label == label:
                    return getattr(element, kind)
        message = f"The page has no {kind} “{label}”."
        raise LookupError(message)
