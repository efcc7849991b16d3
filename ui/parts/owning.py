"""Installed cost or owning cost: over which years, with how many hours of outage."""

from __future__ import annotations

import streamlit as st

from planner.plan.plan import Plan
from planner.report.words import money, number
from planner.study.basis import Basis
from planner.study.owning import owning_cost
from ui.parts.said import points
from ui.session import Session
from ui.state import bound, heard

KINDS = {False: "Installed cost", True: "Owning cost"}


def show_basis(found: Session) -> None:
    """Draw the choice between the two costs, and what owning depends on."""
    basis = found.basis

    def take(owning: bool | None) -> None:
        found.basis = Basis() if owning else None

    st.segmented_control("Cost", list(KINDS), format_func=KINDS.__getitem__,
                         key=bound("owning", basis is not None), on_change=heard("owning", take))
    if basis is None:
        return

    def years(new: float) -> None:
        found.basis = Basis(new, basis.outage_h_per_year)

    def hours(new: float) -> None:
        found.basis = Basis(basis.years, new)

    left, right = st.columns(2)
    left.number_input("Years", 1.0, 40.0, step=1.0, key=bound("years", basis.years),
                      on_change=heard("years", years))
    right.number_input("Hours of outage a year", 0.0, 2000.0, step=1.0,
                       key=bound("outage hours", basis.outage_h_per_year),
                       on_change=heard("outage hours", hours))
    st.caption("Installed cost, maintenance and fuel; no interest. Years and hours are your "
               "assumptions.")


def show_owning(plan: Plan, basis: Basis) -> None:
    """Say what owning a plan costs, part by part."""
    cost, currency = owning_cost(plan, basis), plan.menu.book.currency
    with st.expander(f"Owning cost {money(cost.usd, currency)}", expanded=True):
        points([f"Installed {money(cost.installed_usd, currency)}",
                f"Maintenance {money(cost.maintenance_usd, currency)}",
                f"Fuel {money(cost.fuel_usd, currency)}: {number(cost.fuel_per_h, 2)} "
                f"{cost.fuel_unit} an hour of outage"])
