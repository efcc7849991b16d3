"""What went wrong at the generator, and why: codes of a fall and of its cause."""

from __future__ import annotations

from typing import Final

STALL, LOW_HZ, LOW_VOLTS, BREAKER, DIP = range(5)
"""What: the engine stalls; its protection stops it for frequency, for voltage; the breaker trips;
motors start with a dip beyond what is allowed."""
KINDS = ("stall", "trip, frequency", "trip, voltage", "trip, breaker", "dip beyond the limit")
"""Words for them, in their order."""

PRESSURE: Final = 0
TAKEOVER: Final = 1
TOGETHER: Final = 2
UNSENSED: Final = 3
ON_TOP: Final = 4
DIRECT_ALONE: Final = 5
ADMITTED: Final = 6
LOAD: Final = 7
CAUSES = ("a compressor against its head pressure", "all direct loads together at the takeover",
          "direct loads together", "a load that was not sensed",
          "a start on top of one that was let in", "a direct load alone",
          "a load that was let in", "the load as it stands")
"""Words for the causes, in the order of their codes."""
RECENT_S = 3  # a load that began so long ago may be the cause; a choice
"""Seconds."""
TAKEOVER_S = 5  # the same, after the takeover
LIGHTS_DIP = 0.05
"""Dip that is seen in the lights, per unit (common practice, no source: 3 to 6 %, by how often)."""
