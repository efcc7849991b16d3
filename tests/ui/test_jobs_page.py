"""Jobs in the pages: every change is kept, nothing is overwritten unseen, nothing is lost."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from sqlalchemy.exc import OperationalError
from streamlit.testing.v1 import AppTest

from planner.jobs.project import project_of, project_text
from planner.jobs.store import Store
from tests.ui.opening import SMALL, keys, on_the_table, opened, settled, told, turned
from ui.keeping import Keeper
from ui.session import Session


@pytest.fixture
def address(tmp_path: Path) -> str:
    """A store of its own."""
    return str(tmp_path)


def a_tab(address: str, wanted: str | None = None) -> Session:
    """A tab of one owner: the wanted job, or the last one, is on the table."""
    found = Session(keeper=Keeper(address, "owner", lasting=True))
    known = found.keeper.last(wanted)
    if known is not None:
        found.take(known)
    return found


def uploaded(at: AppTest, content: bytes) -> AppTest:
    """Upload a project file on the page of jobs."""
    turned(at, "jobs").file_uploader(key="project file").set_value(
        ("a.project.json", content, "application/json")).run()
    return at


def begun(address: str) -> tuple[Session, AppTest]:
    """A tab with the small home, on its page."""
    tab = a_tab(address)
    tab.open_home(SMALL, on_the_table(SMALL).home_text)
    return tab, opened(tab)


def test_every_change_is_kept_as_it_is_made(address: str) -> None:
    """A new tab goes on with the values, the goal, the price book and the steps back of the last.

    So does one after the server was started anew, which knows nothing but the store.
    """
    tab, at = begun(address)
    at.text_input(key="field home altitude").set_value("4000 ft").run()
    assert "4000 ft" in a_tab(address).home_text
    tab.set_goal(by="budget", budget_usd=9_999.0)
    assert a_tab(address).goal.budget_usd == 9_999.0
    tab.edit_book(lambda text: f"{text}\n# dearer\n")
    assert a_tab(address).book_text.endswith("# dearer\n")
    tab.can_spend_usd = 12_000.0
    tab.own_order = ("a", "b")  # what a page sets by itself is kept when it is drawn
    at.run()
    assert a_tab(address).content == tab.content
    at.button(key="step back").click().run()
    again = a_tab(address)
    assert "4000 ft" not in again.home_text
    assert again.undone
    assert "saved just now" in told(at)


def test_the_later_of_two_tabs_is_refused(address: str) -> None:
    """A change on an older state is not kept, the page says so, and nothing is overwritten."""
    first, at_first = begun(address)
    second = a_tab(address)
    at_second = opened(second)
    at_first.text_input(key="field home altitude").set_value("4000 ft").run()
    at_second.text_input(key="field home altitude").set_value("1000 ft").run()
    assert "changed elsewhere" in told(at_second)
    assert "not saved" in told(at_second)
    assert "4000 ft" in a_tab(address).home_text
    at_second.button(key="take saved").click().run()
    assert second.content == first.content
    assert "not saved" not in told(at_second)


def test_what_was_refused_can_be_kept_as_a_copy(address: str) -> None:
    """Both states are jobs then, and each tab goes on with its own."""
    first, at_first = begun(address)
    second = a_tab(address)
    at_second = opened(second)
    at_first.text_input(key="field home altitude").set_value("4000 ft").run()
    at_second.text_input(key="field home altitude").set_value("1000 ft").run()
    at_second.button(key="keep a copy").click().run()
    at_second.text_input(key="field home altitude").set_value("1100 ft").run()
    assert first.keeper.job is not None
    assert second.keeper.job is not None
    assert "4000 ft" in a_tab(address, first.keeper.job.id).home_text
    assert "1100 ft" in a_tab(address, second.keeper.job.id).home_text


def test_a_tab_follows_what_another_has_kept(address: str) -> None:
    """Drawn again without a change of its own, a tab shows what the other one made of the job."""
    first, at_first = begun(address)
    second = a_tab(address)
    at_second = opened(second)
    at_first.text_input(key="field home altitude").set_value("4000 ft").run()
    at_second.run()
    assert second.content == first.content
    assert "changed in another tab" in told(at_second)
    at_second.text_input(key="field home altitude").set_value("1000 ft").run()
    assert "1000 ft" in a_tab(address).home_text


def test_a_job_deleted_elsewhere_is_not_written_to(address: str) -> None:
    """Who still has it open reads that it is gone, and can keep a copy."""
    first, at = begun(address)
    assert first.keeper.job is not None
    Store(address, "owner").remove(first.keeper.job.id)
    at.text_input(key="field home altitude").set_value("4000 ft").run()
    assert "deleted elsewhere" in told(at)
    assert a_tab(address).home_text == ""
    at.button(key="keep a copy").click().run()
    assert "4000 ft" in a_tab(address).home_text


def test_names_copies_and_deletions(address: str) -> None:
    """A job is renamed, copied, searched, deleted and brought back on the page."""
    tab, at = begun(address)
    at = turned(at, "jobs")
    at.text_input(key="job name").set_value("Small house").run()
    at.text_input(key="job customer").set_value("Family of four").run()
    job = tab.keeper.job
    assert job is not None
    assert (job.label, job.customer) == ("Small house", "Family of four")
    tab.edit_home(lambda text: text.replace("label =", "label  =", 1))
    assert tab.keeper.job is not None
    assert tab.keeper.job.label == "Small house"  # a name of one's own does not follow the home's
    at.button(key=f"copy {job.id}").click().run()
    assert "Copy of Small house" in told(at)
    at.text_input(key="search jobs").set_value("copy").run()
    assert f"delete {job.id}" not in keys(at)
    at.text_input(key="search jobs").set_value("").run()
    at.button(key=f"delete {job.id}").click().run()
    assert not tab.has_home
    at.button(key=f"back {job.id}").click().run()
    at.button(key=f"open {job.id}").click().run()
    assert tab.has_home


def test_a_job_comes_back_from_its_project_file(address: str) -> None:
    """Saved and opened as a project file, it is a job of its own with all that it held."""
    tab, at = begun(address)
    assert tab.keeper.job is not None
    text = project_text(tab.keeper.job)
    at = uploaded(at, text.encode())
    at.button(key="open project").click().run()
    assert tab.keeper.job.id != project_of(text, "x").id
    assert tab.content == project_of(text, "x").content
    assert len(Store(address, "owner").lines()) == 2


@pytest.mark.parametrize("hostile", [
    b"\xff\xfe\x00", b"{" * 100_000, b'{"project": 1, "label": "<script>alert(1)</script>"}',
    json.dumps({"project": 10 ** 400}).encode(), b'{"project": null}'])
def test_a_hostile_project_file_is_refused(address: str, hostile: bytes) -> None:
    """It is said to be none, the page stands, and the job is as before."""
    tab, at = begun(address)
    before = tab.content
    at = uploaded(at, hostile)
    assert not at.exception
    assert at.error
    assert "open project" not in keys(at)
    assert tab.content == before


def test_a_quote_stays_as_it_went_out(address: str) -> None:
    """The recommended plan is kept with its files; opened later, it is a job with those."""
    tab, at = begun(address)
    at = turned(settled(turned(at, "wishes")), "jobs")
    settled(at).button(key="keep quote").click().run()
    assert tab.keeper.job is not None
    (sent,) = tab.keeper.job.quotes
    assert sent.home.text == tab.home_text
    assert json.loads(sent.plan)["plan"]["cost"] == sent.cost_usd
    tab.edit_book(lambda text: f"{text}\n# dearer\n")
    at.run()
    at.button(key="quote 1").click().run()
    assert tab.book_text == sent.book.text
    assert not tab.book_text.endswith("# dearer\n")


def test_the_list_of_jobs_begins_no_work(address: str) -> None:
    """Whoever only looks for a job does not wait for a plan, and nobody works out one for them."""
    tab, at = begun(address)
    at = turned(at, "jobs")
    assert not tab.desk.busy
    assert "keep quote" not in keys(at)
    assert "Once a plan is found" in told(at)


def test_what_was_changed_is_listed(address: str) -> None:
    """Each step says what it changed, and can be gone back to."""
    tab, at = begun(address)
    before = tab.home_text
    for feet in ("4000 ft", "1000 ft"):
        at.text_input(key="field home altitude").set_value(feet).run()
    at = turned(at, "jobs")
    assert "altitude: 4000 ft → 1000 ft" in told(at)
    at.button(key="back to 2").click().run()
    assert tab.home_text == before


def test_a_store_that_fails_is_said_and_tried_again(
    address: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While the disk is full every page says that nothing is saved; the next change after is."""
    tab, at = begun(address)

    def full(*_: object, **__: object) -> None:
        raise OperationalError("x", {}, OSError("the disk is full"))

    with monkeypatch.context() as broken:
        broken.setattr("planner.jobs.store._put", full)
        at.text_input(key="field home altitude").set_value("4000 ft").run()
        assert "the disk is full" in told(at)
        assert "4000 ft" in tab.home_text
        assert not turned(at, "wishes").exception
    turned(at, "home").text_input(key="field home altitude").set_value("1000 ft").run()
    assert "the disk is full" not in told(at)
    assert "1000 ft" in a_tab(address).home_text
