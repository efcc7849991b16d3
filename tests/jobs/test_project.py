"""A project file holds all of a job, and is refused with a sentence where it is none."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from planner.cli.main import run
from planner.errors import CaseError
from planner.jobs.content import Choices, Content, File, Goal, Job, PlanKey, Quote
from planner.jobs.project import is_project, project_of, project_text

CASES = Path(__file__).parents[2] / "cases"
NAME = "given.project.json"


def a_job(goal: Goal | None = None) -> Job:
    """A job with the small home of `cases`, a step back, a pinned plan and a quote."""
    home = File("gas_heated_small.toml", (CASES / "gas_heated_small.toml").read_text("utf-8"))
    book = File("demo_price_book.toml", (CASES / "demo_price_book.toml").read_text("utf-8"))
    content = Content(home, book, Choices(goal or Goal(), pins=(PlanKey("a", 0.5),)),
                      (File("before.toml", "ü = 1\n"),))
    return Job("id", "Small", "A customer", 3, 5.5, content,
               (Quote(1.0, "a plan", 2.0, home, book, "{}"),))


def test_it_holds_all_of_a_job() -> None:
    """Read back, a job is as it was, but for its place in a store."""
    job = a_job(Goal("budget", budget_usd=12_000.0))
    text = project_text(job)
    assert is_project(text)
    assert project_of(text, NAME) == replace(job, id="", revision=0)


def _changed(change: dict[str, Any]) -> str:
    return json.dumps({**json.loads(project_text(a_job())), **change})


@pytest.mark.parametrize(("text", "said"), [
    ('{"project": 1', "cut off"),
    ("[" * 100_000, "cut off"),
    ('{"project": 1}', "label"),
    (_changed({"project": 2}), "version 2"),
    (_changed({"content": {"home": {"name": "x", "text": 5}}}), "content.home.text"),
    (_changed({"changed_s": "NaN?"}), "changed_s"),
    (_changed({"content": {"home": {"name": "", "text": ""}, "book": {"name": "", "text": ""},
                           "choices": {"basis": {"years": -1, "outage_h_per_year": 1}}}}),
     "basis"),
])
def test_what_is_no_project_is_refused(text: str, said: str) -> None:
    """One sentence says what is wrong and where."""
    with pytest.raises(CaseError) as refused:
        project_of(text, NAME)
    assert said in str(refused.value)
    assert NAME in str(refused.value)


def test_a_home_is_no_project() -> None:
    """A home file is not taken for a project, whatever is written in it."""
    assert not is_project((CASES / "suburban.toml").read_text("utf-8"))
    assert not is_project('# {"project": 1}\n[home]\n')


Captured = pytest.CaptureFixture[str]


def _answer(captured: Captured, *words: str) -> tuple[str, str]:
    """What a command prints, and what it says beside."""
    assert run(words) == 0
    found = captured.readouterr()
    return found.out, found.err


@pytest.mark.parametrize("command", [
    ("check",), ("demand",), ("plan", "--coverage", "90 %", "--json"), ("frontier", "--json")])
def test_commands_read_a_project(
    tmp_path: Path, capsys: Captured, command: tuple[str, ...]
) -> None:
    """A command answers for a project as for the home and the price book that it holds."""
    given = tmp_path / NAME
    given.write_text(project_text(a_job()), "utf-8")
    home = str(CASES / "gas_heated_small.toml")
    assert _answer(capsys, command[0], str(given), *command[1:]) == _answer(
        capsys, command[0], home, *command[1:])


def test_plan_takes_the_goal_of_the_project(tmp_path: Path, capsys: Captured) -> None:
    """Without one of its own, `plan` plans for the project's goal and says so."""
    given = tmp_path / NAME
    given.write_text(project_text(a_job(Goal("budget", budget_usd=9_000.0))), "utf-8")
    home = str(CASES / "gas_heated_small.toml")
    answer, said = _answer(capsys, "plan", str(given))
    assert "the goal of this job is a budget of 9,000 USD" in said
    assert answer == _answer(capsys, "plan", home, "--budget", "9000 USD")[0]
    answer, said = _answer(capsys, "plan", str(given), "--coverage", "90 %")
    assert "the goal of this job" not in said
    assert answer == _answer(capsys, "plan", home, "--coverage", "90 %")[0]
