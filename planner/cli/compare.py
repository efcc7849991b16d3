"""``planner compare``: several sizes side by side, load by load."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

import click

from planner.cli.answer import show_comparison
from planner.cli.pricing import covering, limited, limits_of, priced, read_priced
from planner.cli.searching import ending_code, searching
from planner.cli.state import State, common
from planner.cli.terminal.output import emit, show_findings
from planner.facts.home import OrderRule
from planner.facts.price_book import PriceBook
from planner.plan.goal import USUAL_COVERAGE
from planner.quoting import quoted, some
from planner.report.data import comparison_data
from planner.study.compare import compare


@click.command(name="compare", short_help="Put several sizes side by side, load by load.")
@click.argument("home_file", metavar="HOME")
@click.option("--size", "sizes", multiple=True, metavar="ID",
              help="Generator of the price book; repeat for several. If none is given, the "
                   "recommended one, and those before and after it among all plans of the home.")
@covering("Least share of what the family wants that is kept, for each size; 97 % if not given.",
          USUAL_COVERAGE)
@limited
@priced
@common
@click.pass_obj
def command(
    state: State, *, home_file: str, sizes: tuple[str, ...], coverage: float,
    allow_unserved: bool, seconds: float | None, gap: float | None, book: str | None,
    order: OrderRule | None,
) -> int:
    """Put several sizes side by side, load by load.

    Of each size the plan is shown that would be recommended if there were no other; where none
    keeps as much, the one that keeps most. The reference is the cheapest plan in which no
    load is shed. Interrupted, it shows what it has found so far and leaves with code 130.
    """
    home, offered, findings = read_priced(home_file, book, order)
    show_findings(findings)
    _known(offered, sizes)
    limits = limits_of(seconds, gap)
    with searching("Comparing sizes", home, limits) as tick:
        found = compare(home, offered, tuple(dict.fromkeys(sizes)), coverage=coverage,
                        none_starved=not allow_unserved, limits=limits, on_progress=tick)
    if state.as_json:
        emit(comparison_data(home, offered, found, limits.stop))
    else:
        show_comparison(home, offered, found, coverage, limits.stop)
    return ending_code(limits)


def _known(book: PriceBook, sizes: Sequence[str]) -> None:
    known = [generator.id for generator in book.generators]
    for size in sizes:
        if size not in known:
            close = get_close_matches(size, known, n=1)
            hint = f'Did you mean "{close[0]}"?' if close else f"It has {some(known)}."
            message = f"{book.label} has no generator {quoted(size)}. {hint}"
            raise click.BadParameter(message, param_hint="--size")
