"""Long work: progress grows, the outdated is left, a mistake is a sentence, visitors keep apart."""

from __future__ import annotations

import threading

import pytest

from planner.errors import NoPlanError, VerificationError
from ui.session import Session
from ui.work import AT_A_TIME, FAIR_PART, GONE_S, LOOK_S, Abandoned, Desk, Work

LONG_S = 10.0


class Gate:
    """Work that waits until it is let through; says when it has begun and when it was left."""

    def __init__(self, value="the answer"):
        self.value = value
        self.begun, self.go, self.was_left = (threading.Event() for _ in range(3))
        self.calls = 0

    def __call__(self, work):
        """Wait to be let through and look now and then whether anybody still waits."""
        self.calls += 1
        self.begun.set()
        try:
            while not self.go.wait(0.005):
                work.tick(work.share)
            work.tick(1.0)
        except Abandoned:
            self.was_left.set()
            raise
        return self.value


def ended(answer):
    """Wait for the work behind an answer."""
    answer.work.wait(LONG_S)
    assert answer.work.done


def test_a_quick_answer_is_there_at_once():
    """What takes less than the patience of the page is answered without progress or staleness."""
    answer = Desk().ask("sum", 1, lambda work: 42, LONG_S)
    assert (answer.value, answer.error, answer.stale, answer.work) == (42, None, False, None)


def test_the_same_question_is_worked_on_once():
    """Asked again while in work and when done, nothing is begun anew."""
    desk, gate = Desk(), Gate()
    first = desk.ask("plan", "home", gate, 0.0)
    assert first.value is None
    assert first.work is not None
    assert not first.stale
    assert desk.busy
    assert desk.ask("plan", "home", gate, 0.0).work is first.work
    gate.go.set()
    assert desk.ask("plan", "home", gate, LONG_S).value == "the answer"
    assert desk.ask("plan", "home", gate, 0.0).work is None
    assert gate.calls == 1
    assert not desk.busy


def test_the_last_answer_is_stale_while_a_new_one_is_in_work():
    """After a change the old answer stays, marked; then the new one takes its place."""
    desk, gate = Desk(), Gate("new")
    desk.ask("plan", "before", lambda work: "old", LONG_S)
    waiting = desk.ask("plan", "after", gate, 0.0)
    assert (waiting.value, waiting.stale) == ("old", True)
    assert desk.known("plan", "before") is None
    assert desk.known("plan", "after") is None
    gate.go.set()
    fresh = desk.ask("plan", "after", gate, LONG_S)
    assert (fresh.value, fresh.stale) == ("new", False)
    assert desk.known("plan", "after") == "new"


def test_what_nobody_waits_for_is_left():
    """A new question under the same name ends the work on the one before at its next step."""
    desk, old = Desk(), Gate()
    first = desk.ask("plan", "before", old, 0.0)
    assert old.begun.wait(LONG_S)
    desk.ask("plan", "after", lambda work: "new", LONG_S)
    assert old.was_left.wait(LONG_S)
    ended(first)
    assert first.work.value is None
    assert first.work.error is None


def test_another_name_is_not_left():
    """Questions of different names go on side by side."""
    desk, one, two = Desk(), Gate(1), Gate(2)
    first, second = desk.ask("one", "key", one, 0.0), desk.ask("two", "key", two, 0.0)
    one.go.set()
    two.go.set()
    ended(first)
    ended(second)
    assert (desk.known("one", "key"), desk.known("two", "key")) == (1, 2)


def test_left_work_is_begun_anew_when_it_is_asked_again():
    """Leaving a question ends its work; asking it again gives its answer."""
    desk, gate = Desk(), Gate()
    desk.ask("plan", "home", gate, 0.0)
    assert gate.begun.wait(LONG_S)
    desk.leave("plan")
    assert gate.was_left.wait(LONG_S)
    assert not desk.busy
    gate.go.set()
    assert desk.ask("plan", "home", gate, LONG_S).value == "the answer"
    assert gate.calls == 2
    desk.leave("never asked")


@pytest.mark.parametrize("problem", [NoPlanError("Nothing serves it."),
                                     VerificationError("The replay refuses it.")])
def test_a_refusal_of_the_planner_is_handed_on(problem):
    """An error of the planner arrives as it is, instead of a value."""

    def refuse(work):
        raise problem

    answer = Desk().ask("plan", "home", refuse, LONG_S)
    assert answer.error is problem
    assert answer.value is None


def test_a_mistake_becomes_a_sentence():
    """Any other exception is an error of the planner in a sentence, and is said to be no fault."""

    def stumble(work):
        raise RuntimeError("a wheel came off")

    answer = Desk().ask("plan", "home", stumble, LONG_S)
    assert isinstance(answer.error, VerificationError)
    assert "A mistake of the planner, not yours" in answer.error.message
    assert "a wheel came off" in answer.error.message


def test_after_an_error_the_next_question_is_answered():
    """An error takes no place away from later work: more errors than places, then an answer."""
    desk = Desk()

    def stumble(work):
        raise RuntimeError("again")

    for number in range(2 * AT_A_TIME):
        assert desk.ask("plan", number, stumble, LONG_S).error is not None
    assert desk.ask("plan", "right", lambda work: "well", LONG_S).value == "well"


def test_progress_only_grows_and_stays_below_one():
    """A share below the one before does not take the bar back; more than all is all."""
    work, seen = Work("key"), []
    for share in (0.1, 0.4, 0.2, 0.9, 1.7, 0.3):
        work.tick(share)
        seen.append(work.share)
    assert seen == [0.1, 0.4, 0.4, 0.9, 1.0, 1.0]


def test_parts_are_known_before_the_end():
    """What is found on the way can be read while the work goes on."""
    desk, gate = Desk(), Gate()

    def find(work):
        work.find("first")
        return gate(work)

    answer = desk.ask("curve", "home", find, 0.0)
    assert gate.begun.wait(LONG_S)
    assert answer.work.found == ["first"]
    assert not answer.work.done
    gate.go.set()
    ended(answer)


def test_abandoned_work_finds_nothing_more():
    """Neither progress nor a part is taken from work that was abandoned."""
    work = Work("key")
    work.abandon()
    for act in (lambda: work.tick(0.5), lambda: work.find("part")):
        with pytest.raises(Abandoned):
            act()
    assert (work.share, work.found) == (0.0, [])


def test_a_page_that_waits_gives_way():
    """What the visitor does meanwhile ends the waiting at once; the work goes on."""

    class Elsewhere(Exception):
        """The visitor went to another page."""

    def give_way():
        if gate.begun.is_set():
            raise Elsewhere

    gate = Gate()
    desk = Desk(give_way=give_way)
    with pytest.raises(Elsewhere):
        desk.ask("plan", "home", gate, LONG_S)
    assert desk.busy
    assert not gate.was_left.is_set()
    desk.leave_unfinished()
    assert gate.was_left.wait(LONG_S)


def test_only_so_much_is_worked_on_at_a_time():
    """With every place taken the next work says that it waits, and is done when one is free."""
    desks, gates = [Desk() for _ in range(AT_A_TIME)], [Gate(one) for one in range(AT_A_TIME)]
    for desk, gate in zip(desks, gates, strict=True):
        desk.ask("work", "key", gate, 0.0)
        assert gate.begun.wait(LONG_S)
    desk = Desk()
    late = desk.ask("late", "key", lambda work: "late", 0.05)
    assert late.work is not None
    assert late.work.waiting
    gates[0].go.set()
    ended(late)
    assert not late.work.waiting
    assert desk.known("late", "key") == "late"
    for gate in gates:
        gate.go.set()


def test_one_visitor_cannot_take_all_places():
    """A visitor with ten questions works at some; another's first begins before the fifth."""
    many, other = Desk(), Desk()
    gates, first = [Gate(number) for number in range(10)], Gate()
    answers = [many.ask(f"question {number}", "key", gate, 0.0)
               for number, gate in enumerate(gates)]
    for gate in gates[:FAIR_PART]:
        assert gate.begun.wait(LONG_S)
    other.ask("first", "key", first, 0.0)
    assert first.begun.wait(LONG_S)
    assert not any(gate.begun.is_set() for gate in gates[FAIR_PART:])
    assert [answer.work.waiting for answer in answers] == [False] * FAIR_PART + [True] * 8
    for gate in [*gates, first]:
        gate.go.set()
    for answer in answers:
        ended(answer)


def test_left_work_that_waits_ends_at_once():
    """What waits for a place and is left never begins, and takes no place later."""
    desk, gates = Desk(), [Gate(number) for number in range(FAIR_PART + 2)]
    answers = [desk.ask(f"question {number}", "key", gate, 0.0)
               for number, gate in enumerate(gates)]
    desk.leave(f"question {FAIR_PART}")
    assert answers[FAIR_PART].work.done
    for gate in gates:
        gate.go.set()
    ended(answers[-1])
    assert not gates[FAIR_PART].begun.is_set()
    assert answers[-1].work.value == FAIR_PART + 1


def test_the_work_of_a_visitor_who_is_gone_ends():
    """Within seconds of the end of the session nothing is worked on, and nothing waits."""
    there = threading.Event()
    there.set()
    desk, gates = Desk(there.is_set), [Gate(number) for number in range(FAIR_PART + 1)]
    answers = [desk.ask(f"question {number}", "key", gate, 0.0)
               for number, gate in enumerate(gates)]
    for gate in gates[:FAIR_PART]:
        assert gate.begun.wait(LONG_S)
        assert not gate.was_left.wait(2 * LOOK_S)
    there.clear()
    for gate in gates[:FAIR_PART]:
        assert gate.was_left.wait(LONG_S)
    for answer in answers:
        ended(answer)
    assert not gates[-1].begun.is_set()
    assert not desk.busy


def test_a_visitor_who_comes_back_goes_on():
    """After a broken line the work goes on; after a longer absence it is begun anew."""
    there = threading.Event()
    there.set()
    desk, gate = Desk(there.is_set), Gate()
    first = desk.ask("plan", "home", gate, 0.0)
    there.clear()
    assert not gate.was_left.wait(GONE_S / 2)
    there.set()
    assert not gate.was_left.wait(1.5 * GONE_S)
    there.clear()
    ended(first)
    there.set()
    gate.go.set()
    assert desk.ask("plan", "home", gate, LONG_S).value == "the answer"
    assert gate.calls == 2


def test_a_change_of_the_home_ends_what_was_asked_about_it_before():
    """Work about another home or book takes no place from work about this one; answers stay."""
    for change in (lambda one: one.change_home("b = 1"), lambda one: one.open_home("b", "b = 1"),
                   lambda one: one.change_book("b = 1"), Session.step_back):
        found, gate = Session(), Gate()
        found.open_home("a.toml", "before = 1")
        found.change_home("a = 1")
        found.desk.ask("quick", "home", lambda work: "known", LONG_S)
        answer = found.desk.ask("smaller", "home", gate, 0.0)
        change(found)
        ended(answer)
        assert not found.desk.busy
        assert found.desk.known("quick", "home") == "known"


def test_a_change_of_the_goal_ends_what_was_asked_about_it_before():
    """What rests on the recommended plan ends; what does not goes on."""
    found, about, other = Session(), Gate(), Gate()
    answer = found.desk.ask("wishes", "home", about, 0.0)
    found.desk.ask("curve", "home", other, 0.0)
    found.set_goal(coverage=0.5)
    ended(answer)
    assert found.desk.busy
    found.desk.leave_unfinished()
    assert not found.desk.busy


def test_two_sessions_keep_apart():
    """The same name and key at two desks are two answers; leaving one does not touch the other."""
    one, two, gate = Session(), Session(), Gate("two")
    assert one.desk is not two.desk
    assert one.desk.ask("plan", "key", lambda work: "one", LONG_S).value == "one"
    assert two.desk.known("plan", "key") is None
    answer = two.desk.ask("plan", "key", gate, 0.0)
    assert (answer.value, answer.stale) == (None, False)
    assert gate.begun.wait(LONG_S)
    one.desk.leave("plan")
    gate.go.set()
    ended(answer)
    assert answer.work.value == "two"
    one.open_home("a.toml", "a = 1")
    assert (two.home_text, two.past, two.tables) == ("", (), {})
