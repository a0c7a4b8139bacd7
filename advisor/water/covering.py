"""What covers a face or a joint: coats, strips, sheets, and the water that a sump must hold."""

from advisor.water.formula import Formula
from advisor.water.numbers import Band, Floats, Numbers, floats, where

LOOP = Band(2.0, 3.0, 4.0)
"""Free loop of a strip over the movement it must follow. Construction Waterproofing Handbook,
bellows of a sheet over a joint (verified); likely: the middle."""

PUMP_MARGIN = 2.0
"""Pump over the highest inflow, at least. Common practice."""


def face_area(length: Numbers, height: Numbers) -> Floats:
    """Area in m2 of a face with square corners.

    length, height: m, at least 0, else NaN. Calculation of our own.
    """
    along, up = floats(length), floats(height)
    return where((along >= 0) & (up >= 0), along * up)


def coats_mass(area: Numbers, rate: Numbers, coats: Numbers) -> Floats:
    """Powder in kg for a face: area x rate x coats.

    area: m2, at least 0; rate: kg/m2 of a coat, above 0; coats: at least 1. NaN for others.
    Source: 0.75 kg/m2 of a coat of crystalline slurry, two coats under a head (verified: trade
    sketches of consumption).
    """
    a, each, n = floats(area), floats(rate), floats(coats)
    return where((a >= 0) & (each > 0) & (n >= 1), a * each * n)


def strip_length(length: Numbers, overlap: Numbers) -> Floats:
    """Strip in m for a joint, with an overlap at both ends.

    length: m of the joint, above 0; overlap: mm beyond each end, at least 0. NaN for others.
    Source: the facts on repairs, section 5.
    """
    along, lap = floats(length), floats(overlap) / 1000
    return where((along > 0) & (lap >= 0), along + 2 * lap)


def strip_loop(movement: Numbers, times: Numbers = LOOP.likely) -> Floats:
    """Free loop in mm of a strip over a joint that moves.

    movement: mm, at least 0; times: loop over movement, above 0. NaN for others. Source: 2 to 4
    times, Construction Waterproofing Handbook (verified).
    """
    m, n = floats(movement), floats(times)
    return where((m >= 0) & (n > 0), m * n)


def sheet_area(area: Numbers, laps: Numbers) -> Floats:
    """Sheet in m2 for a face, with its laps and offcuts.

    area: m2, at least 0; laps: share of the area that is added, %, at least 0. NaN for others.
    Source: 10 % is common practice.
    """
    a, more = floats(area), floats(laps)
    return where((a >= 0) & (more >= 0), a * (1 + more / 100))


def pump_flow(inflow: Numbers, margin: Numbers = PUMP_MARGIN) -> Floats:
    """Flow in L/h that a drain or a pump must take: twice the highest inflow.

    inflow: L/h, at least 0; margin: over the inflow, at least 1. NaN for others. Source: common
    practice.
    """
    q, times = floats(inflow), floats(margin)
    return where((q >= 0) & (times >= 1), q * times)


def sump_reserve(inflow: Numbers, hours: Numbers = 1.0) -> Floats:
    """Litres that a sump must still hold while its pump stands.

    inflow: L/h, at least 0; hours: at least 0. NaN for others. Source: one hour, common practice.
    """
    q, h = floats(inflow), floats(hours)
    return where((q >= 0) & (h >= 0), q * h)


FORMULAS = (
    Formula(name="face-area", reads=("m", "m"), unit="m2", rises="++", point=face_area),
    Formula(
        name="coats-mass",
        reads=("m2", "kg/m2", "count"),
        unit="kg",
        rises="+++",
        point=coats_mass,
    ),
    Formula(name="strip-length", reads=("m", "mm"), unit="m", rises="++", point=strip_length),
    Formula(
        name="strip-loop",
        reads=("mm",),
        unit="mm",
        bands=(LOOP,),
        rises="++",
        point=strip_loop,
    ),
    Formula(name="sheet-area", reads=("m2", "%"), unit="m2", rises="++", point=sheet_area),
    Formula(name="pump-flow", reads=("L/h",), unit="L/h", rises="+", point=pump_flow),
    Formula(name="sump-reserve", reads=("L/h", "h"), unit="L", rises="++", point=sump_reserve),
)
