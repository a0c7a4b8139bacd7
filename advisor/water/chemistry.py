"""What a sample of water says about where it came from: salts, lime, chlorine, shares.

Chloride is the surest tracer: concrete does not change it. High pH says that the water came
through concrete, not which water it was. Which waters a measurement fits stands in
`knowledge/ranges/`, not here.
"""

import numpy as np

from advisor.water.formula import Check, Formula, corners
from advisor.water.numbers import Band, Floats, Numbers, Range, floats, where

HARDNESS_OF_CALCIUM, HARDNESS_OF_MAGNESIUM = 2.497, 4.118
"""mg of CaCO3 a mg: ratios of molar masses (textbook)."""

GERMAN_DEGREE, FRENCH_DEGREE = 17.848, 10.0
"""mg/L CaCO3: 10 mg/L of CaO, and 10 mg/L of CaCO3 (textbook)."""

WARMING = 0.0191
"""1/K. How much more a water conducts, by its 25 °C value: form of ISO 7888 (from memory)."""

WARMEST = 40.0
"""°C, from 0. Where the straight line holds (common practice, no source)."""

CONDUCTS_HYDROXIDE, CONDUCTS_LIME = 198.6, 59.5
"""S cm2/mol at 25 °C, of OH- and of half a Ca2+, in much water (textbook)."""

NEUTRAL, LIME_SATURATED = 7.0, 12.45
"""pH. Lime adds hydroxide above the first; more does not dissolve than gives the second."""

DECAY = Band(0.1, 0.5, 1.5)
"""1/d, loss of free chlorine in treated water (range from memory; likely: common practice, no
source). On concrete or with organic matter more than 2 (from memory)."""

SEA_CHLORIDE = 19_480.0
"""mg/L, open sea (verified). Brackish seas have less: measure the one outside."""


def hardness(calcium: Numbers, magnesium: Numbers) -> Floats:
    """Total hardness in mg/L CaCO3. calcium, magnesium: mg/L, at least 0, else NaN. Textbook."""
    ca, mg = floats(calcium), floats(magnesium)
    total = HARDNESS_OF_CALCIUM * ca + HARDNESS_OF_MAGNESIUM * mg
    return where((ca >= 0) & (mg >= 0), total)


def german_degrees(hardness: Numbers) -> Floats:
    """Hardness in °dH. hardness: mg/L CaCO3, at least 0, else NaN."""
    total = floats(hardness)
    return where(total >= 0, total / GERMAN_DEGREE)


def french_degrees(hardness: Numbers) -> Floats:
    """Hardness in °fH. hardness: mg/L CaCO3, at least 0, else NaN."""
    total = floats(hardness)
    return where(total >= 0, total / FRENCH_DEGREE)


def conductivity_at_25(conductivity: Numbers, temperature: Numbers) -> Floats:
    """Conductivity as it would be at 25 °C, in the unit it came in.

    conductivity: as measured without correction, at least 0; temperature: °C of the sample,
    0 to 40. NaN for others. Form of ISO 7888 (from memory). Most meters do it by themselves.
    """
    ec, t = floats(conductivity), floats(temperature)
    valid = (ec >= 0) & (t >= 0) & (t <= WARMEST)
    return where(valid, ec / (1 + WARMING * (np.where(valid, t, 25.0) - 25)))


def lime_conductivity(acidity: Numbers) -> Floats:
    """What dissolved lime adds to the conductivity at 25 °C, in µS/cm, at the most.

    acidity: pH at 25 °C, 7 to 12.45, else NaN. Conductivity of Ca(OH)2 in much water
    (textbook); real water shows 5 to 15 % less (from memory).
    """
    ph = floats(acidity)
    valid = (ph >= NEUTRAL) & (ph <= LIME_SATURATED)
    hydroxide = 10 ** (np.where(valid, ph, NEUTRAL) - 14)  # mol/L
    return where(valid, hydroxide * (CONDUCTS_HYDROXIDE + CONDUCTS_LIME) * 1000)


def mixed(share: Numbers, background: Numbers, source: Numbers) -> Floats:
    """What a mix of two waters holds of something that stays as it is, in their unit.

    share: of the source in the mix, 0 to 1; background, source: what each holds, at least 0.
    NaN for others. Conservation of mass.
    """
    part, there, here = floats(share), floats(background), floats(source)
    valid = (part >= 0) & (part <= 1) & (there >= 0) & (here >= 0)
    return where(valid, there + part * (here - there))


def share_of_source(leak: Numbers, background: Numbers, source: Numbers) -> Floats:
    """Share of a source in the water of a leak, by what each holds of a tracer; 0 to 1.

    leak, background, source: at least 0, one unit. NaN for others, where source and background
    are alike, and where the leak lies outside the two: it is no mix of them then. Conservation
    of mass; only for what stays as it is, such as chloride, not for chlorine or ammonia.
    """
    found, there, here = floats(leak), floats(background), floats(source)
    valid = (found >= 0) & (there >= 0) & (here >= 0) & (there != here)
    share = (found - there) / np.where(valid, here - there, 1.0)
    return where(valid & (share >= 0) & (share <= 1), share)


def sea_share(chloride: Numbers, background: Numbers, sea: Numbers = SEA_CHLORIDE) -> Floats:
    """Share of sea water in the water of a leak, by chloride in mg/L; 0 to 1.

    NaN as for `share_of_source`, and where the sea does not hold more than the background.
    """
    valid = floats(sea) > floats(background)
    return where(valid, share_of_source(chloride, background, sea))


def chlorine_left(start: Numbers, days: Numbers, decay: Numbers = DECAY.likely) -> Floats:
    """Free chlorine after a time, in the unit of the start.

    start: at least 0; days: at least 0; decay: 1/d, above 0. NaN for others. First order: about
    right in 200 waters and more, the constants differ widely (verified: AWWA J. 1997).
    """
    c, t, k = floats(start), floats(days), floats(decay)
    valid = (c >= 0) & (t >= 0) & (k > 0)
    return where(valid, c * np.exp(-np.where(valid, k * t, 0.0)))


def chlorine_lasts(start: Numbers, end: Numbers, decay: Numbers = DECAY.likely) -> Floats:
    """Days until free chlorine has fallen from start to end.

    start, end: one unit, above 0, the end not above the start; decay: 1/d, above 0. NaN for
    others. From half to half it is the half-life.
    """
    c, e, k = floats(start), floats(end), floats(decay)
    valid = (e > 0) & (c >= e) & (k > 0) & np.isfinite(c)
    ratio = np.where(valid, c / np.where(valid, e, 1.0), 1.0)
    return where(valid, np.log(ratio) / np.where(valid, k, 1.0))


def _share_ends(leak: Range, background: Range, source: Range) -> Range:
    """Ends of the share of a source; NaN where both waters may be alike."""
    low, high = corners(share_of_source, "???", (leak, background, source))
    apart = (background[0] > source[1]) | (source[0] > background[1])
    return where(apart, low), where(apart, high)


FORMULAS = (
    Formula(name="hardness", reads=("mg/L", "mg/L"), unit="mg/L", rises="++", point=hardness),
    Formula(
        name="conductivity-at-25",
        reads=("µS/cm", "°C"),
        unit="µS/cm",
        rises="+-",
        point=conductivity_at_25,
        checks=(
            Check(
                key="water-too-warm",
                level="outside",
                bad=lambda _, t: (t < 0) | (t > WARMEST),
            ),
        ),
    ),
    Formula(
        name="share-of-source",
        reads=("mg/L", "mg/L", "mg/L"),
        unit="ratio",
        rises="???",
        point=share_of_source,
        span=_share_ends,
        checks=(
            Check(
                key="outside-both-waters",
                level="outside",
                bad=lambda leak, one, other: (
                    (leak < np.minimum(one, other)) | (leak > np.maximum(one, other))
                ),
            ),
            Check(key="sources-alike", level="outside", bad=lambda _, one, other: one == other),
        ),
    ),
    Formula(
        name="lime-conductivity",
        reads=("pH",),
        unit="µS/cm",
        rises="+",
        point=lime_conductivity,
        checks=(
            Check(
                key="not-limy",
                level="outside",
                bad=lambda ph: (ph < NEUTRAL) | (ph > LIME_SATURATED),
            ),
        ),
    ),
)
