"""The job of a visitor, kept as it is changed, and followed where another tab changes it."""

from __future__ import annotations

import hashlib
import os
import tempfile
import time
import uuid
from collections.abc import Callable
from functools import cache

from streamlit import context

from planner.case.text import parse_toml
from planner.errors import CaseError, ChangedElsewhereError, StoreError
from planner.jobs.content import Content, Job, Quote
from planner.jobs.store import ADDRESS, VISITORS, Store

COOKIE = "standby_visitor"
JUST_NOW_S = 60.0
HERE = "here"  # owns the jobs of a machine that serves only itself


class Keeper:
    """Keeps one job at a time in a store.

    Attributes
    ----------
    store : Store or None
        None where it cannot be opened; `problem` says why.
    job : Job or None
        As it was kept last.
    refused : str
        Why the last changes are not kept: another tab was first. Nothing more is kept until the
        visitor has settled it.
    problem : str
        Why the store could not be reached; tried again with the next change.
    lasting : bool
        Whether jobs outlive the server.
    """

    def __init__(self, address: str, owner: str, *, lasting: bool) -> None:
        self.job: Job | None = None
        self.refused = self.problem = ""
        self.lasting = lasting
        self.store: Store | None = None
        try:
            self.store = _store(address).of(owner)
        except StoreError as problem:
            self.problem = problem.message

    def open(self, job_id: str) -> Content | None:
        """Open another job; None if it cannot be."""
        try:
            self.job = self.store.load(job_id) if self.store else None
        except StoreError as problem:
            self.problem = problem.message
            return None
        self.refused = self.problem = ""
        return None if self.job is None else self.job.content

    def last(self, wanted: str | None, origin: str | None = None) -> Content | None:
        """Open the wanted job, else the one that came from somewhere, else the last changed."""
        if wanted and (found := self.open(wanted)) is not None:
            return found
        self.problem = "" if self.store else self.problem
        try:
            known = self.store.last(origin) if self.store else None
        except StoreError as problem:
            self.problem = problem.message
            return None
        return self.open(known) if known else None

    def begin(self, content: Content, origin: str = "") -> None:
        """Begin a job of its own with what is on the table."""
        self.job, self.refused = None, ""
        if self.store is not None and content.home.text:
            try:
                self.job = self.store.begin(content, label_of(content), origin=origin)
                self.problem = ""
            except StoreError as problem:
                self.problem = problem.message

    def take_in(self, found: Job) -> None:
        """Begin a job with all that one from a file holds."""
        self.job, self.refused = None, ""
        if self.store is not None:
            try:
                self.job = self.store.take_in(found)
                self.problem = ""
            except StoreError as problem:
                self.problem = problem.message

    def keep(self, content: Content) -> None:
        """Keep what has changed since it was kept last; the job's name follows the home's."""
        if self.store is None or self.refused or not content.home.text:
            return
        if self.job is None:
            self.begin(content)
            return
        if self.job.content == content:
            return
        try:
            before = label_of(self.job.content)
            label = label_of(content) if self.job.label == before else self.job.label
            self.job = self.store.save(self.job, content, label)
            self.problem = ""
        except ChangedElsewhereError as problem:
            self.refused = problem.message
        except StoreError as problem:
            self.problem = problem.message

    def newer(self) -> Content | None:
        """What the job holds, if somebody else has changed it since it was kept here."""
        if self.store is None or self.job is None or self.refused:
            return None
        try:
            now = self.store.revision(self.job.id)
            if now == self.job.revision:
                return None
            if not now:
                self.refused = "This job was deleted elsewhere. What you change is not kept."
                return None
            before, self.job = self.job, self.store.load(self.job.id)
        except StoreError as problem:
            self.problem = problem.message
            return None
        return None if self.job.content == before.content else self.job.content

    def rename(self, label: str, customer: str) -> None:
        """Call the job otherwise."""
        self._changed(lambda store, job: store.rename(job, label, customer))

    def add_quote(self, sent: Quote) -> None:
        """Keep what went out to the customer."""
        self._changed(lambda store, job: store.add_quote(job, sent))

    def _changed(self, change: Callable[[Store, Job], Job]) -> None:
        if self.store is None or self.job is None or self.refused:
            return
        try:
            self.job = change(self.store, self.job)
        except ChangedElsewhereError as problem:
            self.refused = problem.message
        except StoreError as problem:
            self.problem = problem.message


def keeper() -> Keeper:
    """Give a new visitor what keeps their jobs."""
    address = os.environ.get(ADDRESS, "")
    if not address:
        return Keeper(_for_this_process(), uuid.uuid4().hex, lasting=False)
    if not os.environ.get(VISITORS):
        return Keeper(address, HERE, lasting=True)
    token = context.cookies.get(COOKIE, "")
    owner = hashlib.sha256((token or uuid.uuid4().hex).encode()).hexdigest()
    return Keeper(address, owner, lasting=bool(token))


def origin_of(name: str, text: str) -> str:
    """Where a home came from: a file with this name and text."""
    return hashlib.sha256(f"{name}\n{text}".encode()).hexdigest()


def label_of(content: Content) -> str:
    """What a home calls itself, or its file."""
    try:
        home = parse_toml(content.home.text, content.home.name).get("home")
    except CaseError:
        return content.home.name
    label = home.get("label") if isinstance(home, dict) else None
    return label if isinstance(label, str) and label.strip() else content.home.name


def kept_words(keeper: Keeper, now_s: float | None = None) -> str:
    """Say when the job was kept last, or that it is not."""
    if keeper.refused or keeper.problem or keeper.job is None:
        return "not saved" if keeper.refused or keeper.problem else ""
    since_s = (time.time() if now_s is None else now_s) - keeper.job.changed_s
    if since_s < JUST_NOW_S:
        return "saved just now"
    return f"saved {day_and_time(keeper.job.changed_s)}"


def day_and_time(at_s: float) -> str:
    """A time [s since 1970, UTC] where the server is: ``Nov 28, 16:40``."""
    return time.strftime("%b %d, %H:%M", time.localtime(at_s))


@cache
def _store(address: str) -> Store:
    return Store(address)


@cache
def _for_this_process() -> str:
    """A directory that is gone when the server ends."""
    folder = tempfile.TemporaryDirectory(prefix="standby-planner-")
    _HELD.append(folder)
    return folder.name


_HELD: list[tempfile.TemporaryDirectory[str]] = []
