"""Whether a comfort's promise is kept on every day of a spell.

Settled here:

- a promise is relaxed, per design day, to the worst of what unlimited power keeps in the spell, and
  for a room by 1 degF more; tasks and dry taps to as many as then on the worst day of the spell;
- a shower is the heat of 16 gal from the inlet to 105 degF, and a cold one is a shower's worth of
  heat that came cold, in whole or in parts;
- a promise of miles without an hour holds whenever the car leaves, with an hour after the slot
  that ends then.
"""

from __future__ import annotations

from tests.oracle.wants import BTU_PER_GAL_DEGF, BTU_PER_KWH, DAY, INLET_DEGF, Task

HAIR = 1e-9
SHOWER_KWH = 16.0 * BTU_PER_GAL_DEGF * (105.0 - INLET_DEGF) / BTU_PER_KWH


def is_broken(comfort, wants, deviation, got, best_deviation, best, days):
    """Whether a comfort breaks its promise in a spell; `days` is its length."""
    promise = comfort.promise
    mine = [wants[load_id] for load_id in comfort.loads if wants[load_id] is not None]
    if promise is None or not mine:
        return False
    one, each = mine[0], range(days)
    if comfort.kind == "room":
        bound = promise.warmest_degf if one.cools else promise.coldest_degf
        if bound is None:
            return False
        far = bound - one.set_degf if one.cools else one.set_degf - bound
        far = max(far, float(best_deviation.max()) + 1.0)
        return bool(deviation.max() > far + HAIR)
    if promise.uncut and isinstance(one, Task) and _more(got, best, each):
        return True
    if promise.safe and comfort.kind in {"food", "pit", "running water"} and _more(got, best, each):
        return True
    if promise.cold_showers is not None and comfort.kind == "hot water":
        cold, least = (max(_showers(side.on(k)) for k in each) for side in (got, best))
        return cold > max(promise.cold_showers, least) + HAIR
    if promise.miles is not None and comfort.kind == "car":
        at = ([slot for slot, _ in one.leaves] if promise.by_h is None
              else [DAY * k + max(0, round(4.0 * promise.by_h) - 1) for k in each])
        kept, most = (min(one.cap - side[slot] for slot in at)
                      for side in (deviation, best_deviation))
        return kept < min(promise.miles, most) - HAIR
    return False


def _more(got, best, days):
    worst, least = (max(side.on(k).loss.sum() for k in days) for side in (got, best))
    return worst > least + HAIR


def _showers(one):
    return float((one.loss * one.weight).sum()) / SHOWER_KWH
