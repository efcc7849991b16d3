"""A page that is closed does not keep the machine at work."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from tests.ui.browser.client import coming
from tests.ui.browser.server import ROOT, running

HOME = "large_estate.toml"
SPAN_S, LOOKS = 1.5, 20
AT_WORK, AT_REST = 0.1, 0.03  # of one processor, however many others want it; idle: below 0.01
WARM_S = 60.0  # for what a server does once when its first page is there


def processor_s(process):
    """Seconds that a process has had of all processors."""
    fields = Path(f"/proc/{process}/stat").read_text("ascii").rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


def share_at_work(process):
    """Share of one processor that a process takes for a while."""
    before, begun = processor_s(process), time.monotonic()
    time.sleep(SPAN_S)
    return (processor_s(process) - before) / (time.monotonic() - begun)


def rests(process, within_s):
    """Whether a process comes to rest in time."""
    end = time.monotonic() + within_s
    while time.monotonic() < end:
        if share_at_work(process) < AT_REST:
            return True
    return False


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="no processor time to be read")
def test_the_work_of_a_closed_page_ends():
    """An estate's wishes take long to price; seconds after the page closed the server rests."""
    with running() as (address, process):
        with coming(address) as visitor:
            visitor.arrive()
            visitor.hear()
            assert rests(process, WARM_S)
            visitor.bring("A saved home file", HOME,
                          (ROOT / "cases" / HOME).read_bytes())
            visitor.hear()
            visitor.press("Open this home")
            visitor.hear()
            visitor.go("family")
            for _ in range(LOOKS):
                page = visitor.hear()
                if "What your wishes cost: being calculated" in page:
                    break
                visitor.arrive()
            assert share_at_work(process) > AT_WORK
        assert rests(process, 8.0)
