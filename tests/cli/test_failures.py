"""Whatever goes wrong: a sentence, a remedy, an exit code, and no traceback."""

from __future__ import annotations

import json
import os
import subprocess
import sys

import pytest

from planner.cli.main import TABLE
from planner.errors import NoPlanError, SolverError, VerificationError

COMMANDS = sorted(TABLE)


def calm(outcome):
    """Whether an outcome has something to say and no traceback in it."""
    return outcome.err.strip() != "" and "Traceback" not in outcome.out + outcome.err


@pytest.mark.parametrize("command", COMMANDS)
def test_a_missing_file_is_named(planner, tmp_path, command):
    """Every command says which file it looked for."""
    outcome = planner(command, tmp_path / "nowhere.toml")
    assert outcome.code == 2
    assert calm(outcome)
    assert "nowhere.toml" in outcome.err
    assert outcome.out == ""


@pytest.mark.parametrize("command", COMMANDS)
def test_a_directory_is_not_a_home(planner, tmp_path, command):
    """A directory is refused as such."""
    outcome = planner(command, tmp_path)
    assert (outcome.code, calm(outcome)) == (2, True)
    assert "directory" in outcome.err


@pytest.mark.parametrize("text", [b"[home", b"\xff\xfe\x00", b"", b"\x00"])
def test_what_is_not_toml_is_refused(planner, tmp_path, text):
    """Broken TOML, bytes that are no text, an empty file."""
    path = tmp_path / "odd.toml"
    path.write_bytes(text)
    outcome = planner("check", path)
    assert (outcome.code, calm(outcome)) == (2, True)
    assert "odd.toml" in outcome.err


def test_every_fault_of_a_file_is_said_at_once(planner, home_file):
    """Two faults in two loads give two findings in one run."""
    outcome = planner("check", home_file(('"3 ton"', "3"), ('"0.5 hp"', '"0.5 gal"')))
    assert outcome.code == 2
    assert "load air: size" in outcome.err
    assert "load blower: size" in outcome.err


@pytest.mark.parametrize("arguments", [
    ("demand", "--edition", "1999"), ("demand", "--method", "guess"), ("demand", "--nonsense"),
    ("plan", "--coverage", "0.9"), ("plan", "--coverage", "140 %"), ("plan", "--budget", "9000"),
    ("plan", "--budget", "9000 USD", "--smallest"), ("frontier", "--order", "alphabet"),
    ("check",), (), ("chek",)])
def test_unknown_commands_options_and_values_are_usage_errors(planner, home_file, arguments):
    """Nothing is guessed; the code is that of input which cannot be read."""
    given = list(arguments)
    if len(given) > 1:
        given.insert(1, str(home_file()))
    outcome = planner(*given)
    assert (outcome.code, calm(outcome)) == (2, True)
    assert outcome.out == ""


def test_a_misspelt_command_gets_a_suggestion(planner):
    """The nearest name is offered."""
    assert 'Did you mean "check"?' in planner("chek").err


def test_a_load_that_does_not_exist_is_refused_with_those_that_do(planner, home_file):
    """The message lists what could have been meant."""
    outcome = planner("demand", home_file(), "--load", "boiler")
    assert outcome.code == 2
    assert "air, blower, heater, lights" in " ".join(outcome.err.split())


def test_the_measured_method_needs_a_measurement(planner, home_file):
    """Asked for without one, it is refused and says what is missing."""
    outcome = planner("demand", home_file(), "--method", "measured")
    assert outcome.code == 2
    assert "[code.measured]" in outcome.err


def test_a_failure_in_json_is_an_object_on_standard_output(planner, tmp_path):
    """A program that reads the answer learns kind, code and findings."""
    outcome = planner("check", tmp_path / "nowhere.toml", "--json")
    error = outcome.data["error"]
    assert (error["kind"], error["exit_code"], outcome.code) == ("CaseError", 2, 2)
    assert error["findings"][0]["severity"] == "error"


@pytest.mark.parametrize(("error", "code"), [
    (NoPlanError("Nothing fits."), 1), (SolverError("It did not run."), 3),
    (VerificationError("Refused."), 4), (KeyError("surprise"), 4), (KeyboardInterrupt(), 130)])
def test_each_kind_of_failure_has_its_code(planner, home_file, monkeypatch, error, code):
    """The codes tell a script what happened; a mistake of ours is code 4, not a traceback."""

    def fail(*_):
        raise error

    monkeypatch.setattr("planner.cli.check.read_given", fail)
    outcome = planner("check", home_file())
    assert (outcome.code, calm(outcome)) == (code, True)


def test_debug_shows_the_traceback(planner, tmp_path):
    """Only when asked."""
    assert "Traceback" in planner("check", tmp_path / "nowhere.toml", "--debug").err


def planner_process(*arguments, **settings):
    """Run the command line as a process of its own."""
    return subprocess.run([sys.executable, "-m", "planner", *arguments], capture_output=True,
                          text=True, check=False, timeout=60, **settings)


def test_the_module_runs_as_a_program(home_file):
    """`python -m planner` answers on standard output and leaves with the code."""
    sound = planner_process("check", str(home_file()), "--json")
    assert sound.returncode == 0
    assert json.loads(sound.stdout)["case"] == "house"
    assert planner_process("check", "nowhere.toml").returncode == 2


def test_a_terminal_without_unicode_gets_an_answer(home_file):
    """Signs that it cannot show are replaced, not fatal."""
    outcome = planner_process("demand", str(home_file()),
                              env={**os.environ, "PYTHONIOENCODING": "ascii"})
    assert outcome.returncode == 0
    assert outcome.stderr.count("Traceback") == 0


@pytest.mark.parametrize(("arguments", "absent"), [
    (("--help",), ("numpy", "pandas", "numba", "pulp", "pydantic", "pint", "networkx")),
    (("check", "{home}"), ("pandas", "numba", "pulp", "highspy"))])
def test_quick_commands_load_nothing_heavy(home_file, arguments, absent):
    """Help and check answer at once because they import little."""
    code = ("import sys\nfrom planner.cli.main import run\n"
            "run(sys.argv[1:])\nprint('loaded:', *sorted(sys.modules))")
    given = [argument.format(home=home_file()) for argument in arguments]
    outcome = subprocess.run([sys.executable, "-c", code, *given], capture_output=True, text=True,
                             check=True, timeout=60)
    loaded = outcome.stdout.rpartition("loaded:")[2].split()
    assert "planner.cli.main" in loaded
    assert set(loaded).isdisjoint(absent)


@pytest.mark.parametrize("said", ["200", "1e9", "inf"])
def test_a_share_beyond_all_is_out_of_range_however_it_is_meant(planner, home_file, said):
    """No remedy is named that would be refused in turn."""
    outcome = planner("plan", home_file(), "--confidence", said)
    assert outcome.code == 2
    assert f'"{said}" is out of range: from 0 % to 100 %.' in " ".join(outcome.err.split())
    assert "Write" not in outcome.err
