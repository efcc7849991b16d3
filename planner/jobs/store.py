"""Jobs in a store: opened, changed, copied, searched, deleted; nothing is overwritten unseen.

Every change is one transaction and says which revision was seen last. If another one has changed
the job since, it is refused.
"""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from sqlalchemy import Connection, Engine, Row, delete, func, insert, select, update
from sqlalchemy.exc import SQLAlchemyError

from planner.errors import ChangedElsewhereError, StoreError
from planner.jobs.content import Content, Job, Line, Quote
from planner.jobs.packing import adapter, packed, spread, squeezed, unpacked
from planner.jobs.tables import file, job, opened, quote, refusal

Clock = Callable[[], float]
ADDRESS, VISITORS = "STANDBY_STORE", "STANDBY_VISITORS"
"""Names in the environment of the pages: where jobs are kept; whether browsers have their own."""
LONGEST_NAME = 200  # characters of a label or of a customer's name (a choice)


class Store:
    """Jobs of one owner in a database.

    Parameters
    ----------
    address : str
        A directory, or the address of a database; see `planner.jobs.tables.opened`.
    owner : str
        Whose jobs these are; nobody sees those of another.
    clock : callable, optional
        Gives the time [s since 1970, UTC].
    engine : Engine, optional
        The database, where it is open already.

    Raises
    ------
    StoreError
        From every method: the database cannot be reached, or the job is not there.
    """

    def __init__(
        self, address: str, owner: str = "", clock: Clock = time.time,
        engine: Engine | None = None,
    ) -> None:
        self.address, self.owner, self.clock = address, owner, clock
        self.engine = engine or opened(address)

    def of(self, owner: str) -> Store:
        """The same store, with the jobs of another owner."""
        return Store(self.address, owner, self.clock, self.engine)

    def close(self) -> None:
        """Let go of the database."""
        self.engine.dispose()

    def begin(self, content: Content, label: str, customer: str = "", origin: str = "") -> Job:
        """Begin a job; `origin` tells where its home came from."""
        made = Job(uuid.uuid4().hex, _short(label), _short(customer), 1, self.clock(), content)
        with self._writing("The job could not be kept") as connection:
            _insert(connection, made, self.owner, origin)
        return made

    def load(self, job_id: str) -> Job:
        """Give a job that is not deleted."""
        with self._writing("The job could not be read") as connection:
            row = connection.execute(select(job).where(*self._mine(job_id))).one_or_none()
            if row is None:
                raise _gone()
            texts = connection.execute(
                select(file.c.digest, file.c.text).where(file.c.job == job_id)).all()
            quotes = connection.execute(
                select(quote.c.content).where(quote.c.job == job_id).order_by(quote.c.number)
            ).scalars().all()
        return _job(row, {one.digest: one.text for one in texts}, quotes)

    def revision(self, job_id: str) -> int:
        """Which revision a job is at; 0 if it is deleted or not there."""
        with self._writing("The job could not be read") as connection:
            return connection.execute(
                select(job.c.revision).where(*self._mine(job_id))).scalar() or 0

    def last(self, origin: str | None = None) -> str | None:
        """The job that was changed last, or the one that came from somewhere; None without one."""
        ask = select(job.c.id).where(job.c.owner == self.owner, job.c.deleted_s.is_(None))
        if origin is not None:
            ask = ask.where(job.c.origin == origin)
        with self._writing("The list of jobs could not be read") as connection:
            return connection.execute(ask.order_by(job.c.changed_s.desc()).limit(1)).scalar()

    def lines(self, words: str = "", *, deleted: bool = False) -> list[Line]:
        """List the jobs whose name or customer holds all of some words, the last changed first."""
        counted = (select(func.count()).where(quote.c.job == job.c.id).scalar_subquery())
        ask = select(job.c.id, job.c.label, job.c.customer, job.c.changed_s, job.c.deleted_s,
                     counted.label("quotes")).where(job.c.owner == self.owner)
        ask = ask.where(job.c.deleted_s.is_not(None) if deleted else job.c.deleted_s.is_(None))
        with self._writing("The list of jobs could not be read") as connection:
            rows = connection.execute(ask.order_by(job.c.changed_s.desc())).all()
        return [Line(row.id, row.label, row.customer, row.changed_s, row.quotes, row.deleted_s)
                for row in rows
                if all(word in f"{row.label}\n{row.customer}".casefold()
                       for word in words.casefold().split())]

    def save(self, known: Job, content: Content, label: str | None = None) -> Job:
        """Keep what a job holds now, and what it is called if that is given.

        Raises
        ------
        ChangedElsewhereError
            It was changed, or deleted, after the revision that is known; nothing is changed.
        """
        text, texts = packed(content)
        label = known.label if label is None else _short(label)
        with self._writing("The change could not be kept") as connection:
            made = self._step(connection, known, content=text, label=label)
            there = set(connection.execute(
                select(file.c.digest).where(file.c.job == known.id)).scalars())
            _put(connection, known.id, {digest: texts[digest] for digest in texts.keys() - there})
            if there - texts.keys():
                connection.execute(delete(file).where(
                    file.c.job == known.id, file.c.digest.in_(there - texts.keys())))
        return replace(made, content=content, label=label)

    def rename(self, known: Job, label: str, customer: str) -> Job:
        """Call a job otherwise; refused as `save` is."""
        label, customer = _short(label) or known.label, _short(customer)
        with self._writing("The name could not be kept") as connection:
            made = self._step(connection, known, label=label, customer=customer)
        return replace(made, label=label, customer=customer)

    def add_quote(self, known: Job, sent: Quote) -> Job:
        """Keep what went out to the customer; refused as `save` is."""
        with self._writing("The quote could not be kept") as connection:
            made = self._step(connection, known)
            number = connection.execute(
                select(func.count()).where(quote.c.job == known.id)).scalar_one()
            connection.execute(insert(quote).values(
                job=known.id, number=number, content=adapter(Quote).dump_json(sent).decode()))
        return replace(made, quotes=(*known.quotes, sent))

    def copy(self, job_id: str) -> Job:
        """Begin a job with all that another one holds but its quotes."""
        found = self.load(job_id)
        return self.begin(found.content, _short(f"Copy of {found.label}"), found.customer)

    def take_in(self, found: Job) -> Job:
        """Begin a job with all that one from a file holds."""
        made = replace(found, id=uuid.uuid4().hex, revision=1, changed_s=self.clock())
        with self._writing("The job could not be kept") as connection:
            _insert(connection, made, self.owner, "")
        return made

    def remove(self, job_id: str) -> None:
        """Delete a job; `bring_back` undoes it."""
        self._mark(job_id, self.clock())

    def bring_back(self, job_id: str) -> None:
        """Undo the deletion of a job."""
        self._mark(job_id, None)

    def remove_for_good(self, job_id: str) -> None:
        """Take a deleted job out of the store."""
        with self._writing("The job could not be deleted") as connection:
            found = connection.execute(select(job.c.id).where(
                job.c.id == job_id, job.c.owner == self.owner, job.c.deleted_s.is_not(None))
            ).scalar()
            if found is None:
                raise _gone()
            for table in (file, quote):
                connection.execute(delete(table).where(table.c.job == job_id))
            connection.execute(delete(job).where(job.c.id == job_id))

    def _mark(self, job_id: str, deleted_s: float | None) -> None:
        with self._writing("The job could not be changed") as connection:
            done = connection.execute(
                update(job).where(job.c.id == job_id, job.c.owner == self.owner)
                .values(deleted_s=deleted_s, revision=job.c.revision + 1))
            if not done.rowcount:
                raise _gone()

    def _step(self, connection: Connection, known: Job, **values: str) -> Job:
        """Count a change of a job that is still at the revision that is known."""
        now = self.clock()
        done = connection.execute(
            update(job).where(*self._mine(known.id), job.c.revision == known.revision)
            .values(revision=known.revision + 1, changed_s=now, **values))
        if not done.rowcount:
            at_s = connection.execute(
                select(job.c.changed_s).where(*self._mine(known.id))).scalar()
            raise ChangedElsewhereError(_refused(at_s))
        return replace(known, revision=known.revision + 1, changed_s=now)

    def _mine(self, job_id: str) -> tuple[Any, ...]:
        return job.c.id == job_id, job.c.owner == self.owner, job.c.deleted_s.is_(None)

    @contextmanager
    def _writing(self, what: str) -> Iterator[Connection]:
        """One transaction: all of it is kept, or nothing."""
        try:
            with self.engine.begin() as connection:
                yield connection
        except SQLAlchemyError as problem:
            raise refusal(what, problem) from None


def _insert(connection: Connection, made: Job, owner: str, origin: str) -> None:
    text, texts = packed(made.content)
    connection.execute(insert(job).values(
        id=made.id, owner=owner, label=made.label, customer=made.customer, origin=origin,
        revision=made.revision, changed_s=made.changed_s, deleted_s=None, content=text))
    _put(connection, made.id, texts)
    for number, one in enumerate(made.quotes):
        connection.execute(insert(quote).values(
            job=made.id, number=number, content=adapter(Quote).dump_json(one).decode()))


def _put(connection: Connection, job_id: str, texts: dict[str, str]) -> None:
    if texts:
        connection.execute(insert(file), [
            {"job": job_id, "digest": digest, "text": squeezed(text)}
            for digest, text in texts.items()])


def _job(row: Row[Any], texts: Mapping[str, bytes], quotes: Sequence[str]) -> Job:
    try:
        content = unpacked(row.content, {key: spread(held) for key, held in texts.items()})
        sent = tuple(adapter(Quote).validate_json(one) for one in quotes)
    except (KeyError, ValueError):
        message = f"The job {row.label} is damaged in the store. Its other jobs are not."
        raise StoreError(message) from None
    return Job(row.id, row.label, row.customer, row.revision, row.changed_s, content, sent)


def _short(words: str) -> str:
    return " ".join(words.split())[:LONGEST_NAME]


def _gone() -> StoreError:
    return StoreError("This job is not in the store, or it was deleted. The list of jobs says "
                      "which ones there are.")


def _refused(at_s: float | None) -> str:
    if at_s is None:
        return "This job was deleted elsewhere. What you changed since is not kept."
    when = time.strftime("%H:%M:%S", time.localtime(at_s))
    return (f"This job was changed elsewhere at {when}, perhaps in another tab. What you changed "
            "after that is not kept, and nothing was overwritten.")
