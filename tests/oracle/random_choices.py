"""Random choices about a home that its wishes allow, whatever they are worth."""

from __future__ import annotations

from planner.service.choice import BY_HAND, DIRECT, MODULE, OFF, Choice
from tests.oracle.verdict import Judge

SENSES = 0.1  # of the modules, whether the book has one or not
STAYS_OPEN = 0.3  # of what is off, whether the home could have it or not
WORDS = ("off", "direct", "module", "by hand")
CODES = {"off": OFF, "direct": DIRECT, "module": MODULE, "by hand": BY_HAND}


def random_ways(one, offered, rng):
    """Words, places of soft starters (0 for none) and an order that the home's wishes allow."""
    judge = Judge(one)
    mostly = rng.choice(["module", "module", "direct"])
    words = ["direct"]
    for ld in one.loads[1:]:
        word = mostly if rng.random() < 0.7 else rng.choice(WORDS[:3])
        if ld.restarts == "must not" and word == "module":
            word = "direct"
        words.append("by hand" if "by hand" in ld.allowed and rng.random() < 0.3 else word)
    order = _settled(one, judge, words, rng)
    soft = [rng.randrange(0, len(offered.soft_starters) + 1) if ld.is_motor else 0
            for ld in one.loads]
    soft = [0 if word in {"off", "by hand"} else s for word, s in zip(words, soft, strict=True)]
    return words, soft, order


def _settled(one, judge, words, rng):
    """Mend words until all that is needed is connected as firmly, and find an order that may be."""
    firm = {"off": 0, "by hand": 0, "module": 1, "direct": 2}
    changed = True
    while changed:
        changed = False
        for i in range(len(words)):
            for k in range(len(words)):
                if judge.needs[i, k] and firm[words[i]] > firm[words[k]]:
                    words[k], changed = words[i], True
                late = (i, k) in judge.before and words[k] == "direct" and words[i] == "module"
                if late:
                    words[i], changed = "direct", True
    order, waiting = [], [i for i, word in enumerate(words) if word == "module"]
    while waiting:
        ranks = [judge.rank(i) for i in waiting]
        ready = [i for i in waiting if not any((k, i) in judge.before for k in waiting)
                 and (one.order_rule != "importance" or judge.rank(i) == min(ranks))]
        if not ready:  # the order by importance contradicts that within a comfort
            words[:] = ["direct"] * len(words)
            return []
        pick = rng.choice(ready)
        waiting.remove(pick)
        order.append(pick)
    return order


def random_choice(house, offered, rng):
    """`random_ways` as the planner's replay takes them."""
    words, soft, order = random_ways(house.home, offered, rng)
    sensing = frozenset(i for i in order if rng.random() < SENSES)
    kept_open = frozenset(i for i, word in enumerate(words)
                          if word == "off" and rng.random() < STAYS_OPEN)
    return Choice(tuple(CODES[word] for word in words), tuple(soft), tuple(order), sensing,
                  kept_open)
