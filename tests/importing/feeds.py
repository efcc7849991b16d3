"""Green Button feeds, written as utilities write them."""

from __future__ import annotations

ATOM, ESPI = "http://www.w3.org/2005/Atom", "http://naesb.org/espi"
START_S = 1_388_534_400  # 2014-01-01 00:00 UTC


def reading(start_s, value, length_s=900, p=""):
    """One IntervalReading."""
    return (f"<{p}IntervalReading><{p}timePeriod><{p}duration>{length_s}</{p}duration>"
            f"<{p}start>{start_s}</{p}start></{p}timePeriod><{p}value>{value}</{p}value>"
            f"</{p}IntervalReading>")


def row(values, length_s=900, start_s=START_S, p=""):
    """Readings one after the other."""
    return "".join(reading(start_s + i * length_s, value, length_s, p)
                   for i, value in enumerate(values))


def kind(uom=72, power=0, direction=1, commodity=1, length_s=900, behaviour=4, p=""):
    """One ReadingType."""
    return (f"<{p}ReadingType><{p}accumulationBehaviour>{behaviour}</{p}accumulationBehaviour>"
            f"<{p}commodity>{commodity}</{p}commodity>"
            f"<{p}flowDirection>{direction}</{p}flowDirection>"
            f"<{p}intervalLength>{length_s}</{p}intervalLength>"
            f"<{p}powerOfTenMultiplier>{power}</{p}powerOfTenMultiplier><{p}uom>{uom}</{p}uom>"
            f"</{p}ReadingType>")


def block(readings, p=""):
    """One IntervalBlock."""
    return f"<{p}IntervalBlock>{readings}</{p}IntervalBlock>"


def entry(content, itself="", up="", *related):
    """One entry with its links."""
    links = [("self", itself), ("up", up), *(("related", one) for one in related)]
    said = "".join(f'<link rel="{rel}" href="{href}"/>' for rel, href in links if href)
    return f"<entry>{said}<content>{content}</content></entry>"


def feed(*entries, prefixed=False, head='<?xml version="1.0"?>'):
    """Put entries into a feed; ESPI has a prefix, or is the default namespace of each content."""
    if prefixed:
        return f'{head}<feed xmlns="{ATOM}" xmlns:espi="{ESPI}">{"".join(entries)}</feed>'
    body = "".join(entries)
    for name in ("ReadingType", "IntervalBlock", "UsagePoint", "MeterReading"):
        body = body.replace(f"<{name}>", f'<{name} xmlns="{ESPI}">')
    return f'{head}<feed xmlns="{ATOM}">{body}</feed>'


def service(kind_of_service):
    """One UsagePoint of electricity (0) or gas (1)."""
    return (f"<UsagePoint><ServiceCategory><kind>{kind_of_service}</kind></ServiceCategory>"
            "</UsagePoint>")


def meter(number, kind_of_service, said, readings):
    """Usage point, meter reading, type and block of one meter, joined by links."""
    root = f"/espi/UsagePoint/{number}"
    return (entry(service(kind_of_service), root, "/espi/UsagePoint", f"{root}/MeterReading"),
            entry("<MeterReading/>", f"{root}/MeterReading/1", f"{root}/MeterReading",
                  f"{root}/MeterReading/1/IntervalBlock", f"/espi/ReadingType/{number}"),
            entry(block(readings), f"{root}/MeterReading/1/IntervalBlock/1",
                  f"{root}/MeterReading/1/IntervalBlock"),
            entry(said, f"/espi/ReadingType/{number}", "/espi/ReadingType"))
