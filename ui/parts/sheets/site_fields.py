"""What is known of the site of a home, in fields."""

from __future__ import annotations

from typing import get_args

import streamlit as st

from planner.facts.home import Home
from planner.facts.site import Material
from ui.parts.sheets.fields import Field, show_fields
from ui.readings import Reading
from ui.session import Session

WIRE = (
    Field("site", "wire", "Wire from generator to transfer equipment", "One way: 60 ft.",
          unit="ft"),
    Field("site", "conductor", "Its metal", options=get_args(Material), kind="choice"),
    Field("site", "trench", "Trench", "How much of the way is dug: 40 ft.", unit="ft"),
    Field("site.gas", "pipe", "Gas pipe to the generator",
          "From meter or tank, fittings counted: 50 ft.", unit="ft"),
    Field("site.gas", "pressure", "Gas pressure", "At the start of the pipe: 7 inWC, or 2 psi."),
)
NATURAL_GAS = (
    Field("site.gas", "meter", "Gas meter", "What it passes, on its plate: 250 ft^3/h.",
          unit="ft^3/h"),
)
PROPANE = (
    Field("site.tank", "size", "Propane tank", "Water capacity: 500 gal.", unit="gal"),
    Field("site.tank", "fill_at_delivery", "Fill at which a delivery is called",
          "40 % if left blank.", unit="%"),
    Field("site", "fuel_promise", "Days the fuel must last",
          "From that fill, without a delivery: 2 days."),
)
PLACE = (
    Field("site.place", "opening", "To the nearest door, window or vent", unit="ft"),
    Field("site.place", "wall", "To the nearest wall that burns", unit="ft"),
    Field("site.place", "property_line", "To the property line", unit="ft"),
    Field("site.place", "neighbour", "To the neighbour's window", unit="ft"),
    Field("site.place", "snow", "Snow that lies", unit="in"),
)


def show_site_fields(found: Session, reading: Reading[Home], *, is_open: bool) -> None:
    """Draw what is known of the place; what is left blank is unknown, and said to be missing."""
    home = reading.facts
    open_first = found.remembered("site fold", found.home_name, lambda: is_open)
    fuel = PROPANE if home is not None and home.fuel == "propane" else NATURAL_GAS
    with st.expander("What is known of the place", expanded=open_first):  # as it began
        show_fields((*WIRE, *fuel, *PLACE), found.home_text, found.home_name, found.edit_home,
                    reading.findings, columns=5)
        st.caption("A blank field is not known: nothing is assumed for it. Gas appliances, pipe in "
                   "pieces and the service stand in the file as text, on the first page.")
