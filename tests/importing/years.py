"""Weather files made for a test: a year of hours whose design days can be reckoned by hand."""

from __future__ import annotations

from datetime import date, timedelta

HEADER = ("LOCATION,Millbrook,XX,USA,made,000000,40.0,-90.0,-6.0,300.0", "DESIGN CONDITIONS,0",
          "TYPICAL/EXTREME PERIODS,0", "GROUND TEMPERATURES,0",
          "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0", "COMMENTS 1,made", "COMMENTS 2,made",
          "DATA PERIODS,1,1,Data,Sunday,1/1,12/31")
HOT, COLD = (180, 181, 182), (20, 21, 22)  # days of the year, from 0


def low_high(day):
    """Low and high of a day [degC]: 100 winter days, 165 mild days, 100 summer days."""
    if day in HOT:
        return 20.0, (36.0, 40.0, 35.0)[HOT.index(day)]
    if day in COLD:
        return (-20.0, -15.0, -10.0)[COLD.index(day)], 0.0
    if day < 100:
        return -2.0, 4.0
    if 150 <= day < 250:
        return 18.0, 30.0
    return 9.0, 17.0


def rows():
    """8,760 rows: half of each day at its low, half at its high."""
    found = []
    for day in range(365):
        when, (low, high) = date(2001, 1, 1) + timedelta(days=day), low_high(day)
        found += [f"{when.year},{when.month},{when.day},{hour},0,?9,{low if hour <= 12 else high},0"
                  for hour in range(1, 25)]
    return found


def year(lines=None, header=HEADER):
    """The text of a file."""
    return "\n".join([*header, *(rows() if lines is None else lines), ""])
