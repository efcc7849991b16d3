"""The drawings of a plan, each with its name, its words and its SVG."""

from __future__ import annotations

from dataclasses import dataclass

from planner.plan.plan import Plan
from planner.report.cautions import NOT_A_PERMIT_DRAWING, ON_A_DRAWING
from planner.site.drawing import Heading, draw_one_line, draw_sketch
from planner.site.one_line import one_line
from planner.site.sheet.rows import SiteSheet
from planner.site.sheet.sheet import site_sheet
from planner.site.sketch import sketch_of


@dataclass(frozen=True, slots=True)
class Drawing:
    """A drawing; `alt` says what it shows, `svg` is a whole document."""

    file_name: str
    title: str
    alt: str
    svg: str


def drawings(plan: Plan, sheet: SiteSheet | None = None) -> tuple[Drawing, ...]:
    """Draw the one-line and the sketch of a plan; `sheet` is its site sheet, where it is known."""
    rows = site_sheet(plan) if sheet is None else sheet
    label = plan.menu.house.home.label
    heading = Heading(label, f"{plan.supply.generator.label}; {plan.price.transfer.label}.",
                      NOT_A_PERMIT_DRAWING, ON_A_DRAWING)
    return (
        Drawing("one-line.svg", "One-line diagram",
                f"One-line diagram of {label}: from both sources to every load on standby power, "
                "with breakers, modules and their priority.",
                draw_one_line(one_line(plan, rows), heading)),
        Drawing("sketch.svg", "Sketch of the place",
                f"Sketch of the generator's place at {label}: each distance that the home gives, "
                "beside what is asked for.",
                draw_sketch(sketch_of(plan, rows), heading)),
    )
