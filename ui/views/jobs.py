"""Jobs: what is worked on, for whom; nothing of it is lost."""

from __future__ import annotations

from collections.abc import Callable

import streamlit as st

from planner.errors import CaseError, StoreError
from planner.jobs.content import Line
from planner.jobs.project import ENDING, project_of, project_text
from planner.jobs.store import Store
from planner.report.words import count
from ui.keeping import day_and_time
from ui.parts.cautions import show_cautions
from ui.parts.findings import show_problem
from ui.parts.frame import begin
from ui.parts.jobs.history import show_history
from ui.parts.jobs.quotes import show_quotes
from ui.parts.said import aside, plain
from ui.parts.sheets.ways_to_begin import show_start, take_text
from ui.session import Session
from ui.state import bound, heard

MOST_SHOWN = 20
FOR_NOW = ("Jobs are not kept for long here: the server has no store, or your browser refuses its "
           "cookie. Save a project file to keep one.")


def show() -> None:
    """Draw the page."""
    found = begin("Jobs", "what is worked on, and for whom?")
    keeper = found.keeper
    if keeper.store is None:
        return
    if not keeper.lasting:
        st.info(FOR_NOW)
    if keeper.job is not None:
        _show_this(found)
    st.header("All jobs", anchor=False)
    words = st.text_input("Search by name or customer", key="search jobs",
                          persist_state="session")
    _guarded(lambda store: _show_lines(found, store, words), keeper.store)
    with st.expander("Begin another job"):
        show_start(found)
    with st.expander("Open a project file"):
        _show_import(found)
    _guarded(lambda store: _show_deleted(found, store), keeper.store)
    show_cautions()


def _show_this(found: Session) -> None:
    keeper = found.keeper
    job = keeper.job
    if job is None:
        return
    name, customer, save = st.columns([2, 2, 1], vertical_alignment="bottom")
    name.text_input("Name of this job", key=bound("job name", job.label), max_chars=200,
                    on_change=heard("job name", lambda new: keeper.rename(new, job.customer)))
    customer.text_input("Customer", key=bound("job customer", job.customer), max_chars=200,
                        on_change=heard("job customer", lambda new: keeper.rename(job.label, new)))
    save.download_button("Save as a project file", project_text(job),
                         f"{found.file_name.removesuffix('.toml')}{ENDING}", "application/json",
                         on_click="ignore", key="save project", width="stretch")
    with st.expander(f"Quotes that went out ({len(job.quotes)})", expanded=bool(job.quotes)):
        show_quotes(found)
    with st.expander(f"What was changed ({count(len(found.past), 'step')})"):
        show_history(found)


def _show_lines(found: Session, store: Store, words: str) -> None:
    lines = store.lines(words)
    if not lines:
        aside("No job is called so." if words.strip() else "There is no job yet.")
    here = found.keeper.job.id if found.keeper.job else ""
    for line in lines[:MOST_SHOWN]:
        _show_line(found, store, line, here)
    if lines[MOST_SHOWN:]:
        aside(f"And {len(lines[MOST_SHOWN:])} more: search for one.")


def _show_line(found: Session, store: Store, line: Line, here: str) -> None:
    what, when, open_, copy, gone = st.columns([4, 2, 1, 1, 1], vertical_alignment="center")
    open_now = " · open now" if line.id == here else ""
    for_whom = f" · {plain(line.customer)}" if line.customer else ""
    quotes = f" · {count(line.quotes, 'quote')}" if line.quotes else ""
    what.markdown(f"**{plain(line.label)}**{for_whom}{quotes}{open_now}")
    when.caption(day_and_time(line.changed_s))
    if open_.button("Open", key=f"open {line.id}", disabled=line.id == here, width="stretch",
                    help=f"Open {plain(line.label)}"):
        found.open_job(line.id)
        st.switch_page("views/home.py")
    copy.button("Copy", key=f"copy {line.id}", width="stretch", on_click=_doing, help="With all "
                "but its quotes", args=(found, lambda: store.copy(line.id)))
    gone.button("Delete", key=f"delete {line.id}", width="stretch", on_click=_delete,
                help="Can be brought back, below", args=(found, store, line))


def _show_deleted(found: Session, store: Store) -> None:
    lines = store.lines(deleted=True)
    if not lines:
        return
    with st.expander(f"Deleted jobs ({len(lines)})"):
        for line in lines[:MOST_SHOWN]:
            what, back, gone = st.columns([6, 1, 2], vertical_alignment="center")
            what.markdown(f"{plain(line.label)} · {plain(line.customer)}".rstrip(" ·"))
            back.button("Bring back", key=f"back {line.id}", width="stretch", on_click=_doing,
                        args=(found, lambda line=line: store.bring_back(line.id)))
            gone.button("Delete for good", key=f"purge {line.id}", width="stretch",
                        on_click=_doing, help="Cannot be undone",
                        args=(found, lambda line=line: store.remove_for_good(line.id)))


def _show_import(found: Session) -> None:
    upload = st.file_uploader("A project file", type=["json"], key="project file")
    if upload is None:
        return
    try:
        text = take_text(upload)
        project_of(text, upload.name)
    except CaseError as problem:
        show_problem(problem)
        return
    if st.button("Open this project", type="primary", key="open project"):
        found.open_project(text, upload.name)
        st.switch_page("views/home.py")


def _delete(found: Session, store: Store, line: Line) -> None:
    def act() -> None:
        store.remove(line.id)
        if found.keeper.job is not None and found.keeper.job.id == line.id:
            found.clear()

    _doing(found, act)
    st.toast(f"{plain(line.label)} was deleted. “Deleted jobs” brings it back.")


def _doing(found: Session, act: Callable[[], object]) -> None:
    """Do something with the store; what goes wrong is said at the top of the page."""
    try:
        act()
    except StoreError as problem:
        found.keeper.problem = problem.message


def _guarded(draw: Callable[[Store], None], store: Store) -> None:
    try:
        draw(store)
    except StoreError as problem:
        show_problem(problem)


show()
