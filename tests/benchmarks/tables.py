"""Results as tables in markdown.

Every way runs on one thread, so ratios are of processor time: other work on the machine stretches
wall time, at times by several times.
"""

from __future__ import annotations

import math

from tests.benchmarks.contest import WORDS, shortfall

MARK = "≥ "  # a contender that the clock ended needs at least this long


def side_table(results):
    """Contenders on one home; the first is what the others are compared with."""
    first = results[0]
    rows = [["way", "time, s", "processor, s", "ratio", "widest gap", "points", "lacks",
             "memory, MB"]]
    for one in results:
        rows.append([
            WORDS[one.contender], _time(one), _processor(one), _ratio(one, first),
            _share(one.widest_gap),
            f"{len(one.points)}", _share(shortfall(one, first)), _whole(one.memory_mb)])
    return f"{first.asked}\n\n{_markdown(rows)}"


def growth_table(pairs):
    """Homes of rising size; the planner, and the plain way where it was asked."""
    rows = [["loads", "days", "sizes", "planner, s", "widest gap", "points", "memory, MB",
             "plain way, s", "its widest gap", "ratio"]]
    for results in pairs:
        first, *others = results
        loads, days, sizes = first.asked.partition(":")[2].split(",")
        rest = ["", "", ""]
        if others:
            rest = [_processor(others[0]), _share(others[0].widest_gap), _ratio(others[0], first)]
        rows.append([loads, days, sizes, _processor(first), _share(first.widest_gap),
                     f"{len(first.points)}", _whole(first.memory_mb), *rest])
    return _markdown(rows)


def answer_table(found):
    """Single answers: what was asked, seconds, seconds of a processor, memory."""
    rows = [["answer", "time, s", "processor, s", "memory, MB"]]
    rows += [[what, _seconds(seconds), _seconds(cpu_s), _whole(memory_mb)]
             for what, seconds, cpu_s, memory_mb in found]
    return _markdown(rows)


def _time(one):
    return _bounded(one, one.seconds, _seconds)


def _processor(one):
    return _bounded(one, one.cpu_s, _seconds)


def _ratio(one, first):
    return _bounded(one, one.cpu_s / first.cpu_s, lambda value: f"{value:.1f}" if value < 10.0
                    else f"{value:.0f}")


def _bounded(one, value, written):
    """A value that is only a lower bound where the clock ended the contender."""
    if math.isnan(value):
        return "-"
    return f"{'' if one.finished else MARK}{written(value)}"


def _seconds(value):
    return f"{value:.2f}" if value < 10.0 else f"{value:.0f}"


def _share(value):
    return "-" if math.isnan(value) else f"{100.0 * value:.2f} %"


def _whole(value):
    return "-" if math.isnan(value) else f"{value:.0f}"


def _markdown(rows):
    head, *rest = rows
    lines = [head, ["---"] * len(head), *rest]
    return "\n".join(f"| {' | '.join(line)} |" for line in lines) + "\n"
