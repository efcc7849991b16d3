"""What must stand beside every answer, because people get hurt by wrong ones."""

from __future__ import annotations

from planner.facts.price_book import PriceBook

CAUTIONS: tuple[str, ...] = (
    "Estimates for planning. Permits, local code and the authority having jurisdiction decide.",
    "Work by a licensed electrician; gas piping by a licensed trade.",
    "Never connect a generator to house wiring without transfer equipment, and never through a "
    "range or dryer outlet: backfeed kills line workers, and many a 240 V outlet has no neutral "
    "for the 120 V side.",
    "Engine exhaust holds carbon monoxide: outdoors only, never in a garage, clear of windows, "
    "doors and vents, with carbon monoxide alarms in the house.",
    "Verify nameplates on site before ordering.",
    "Medical equipment needs a backup plan of its own.",
)

IN_A_LINE = ("Before anyone acts on this: estimates only. Backfeed and exhaust kill: transfer "
             "equipment and licensed trades always, the engine outdoors only; medical equipment "
             "needs a backup of its own. All cautions.")
"""For a screen: it opens all of them."""

ON_A_DRAWING = ("Transfer equipment always: backfeed kills. Engine outdoors only, clear of "
                "openings: exhaust kills. Licensed trades do the work; verify nameplates on site; "
                "medical equipment needs a backup of its own.")
"""For a drawing, which may travel without the rest of the answer."""
NOT_A_PERMIT_DRAWING = ("An estimate for planning, not a permit drawing: permits, local code and "
                        "the authority having jurisdiction decide.")


def price_notice(book: PriceBook) -> str:
    """Say what the prices are worth; shown wherever a price is shown."""
    return f"Prices from {book.label}: {book.notice}"
