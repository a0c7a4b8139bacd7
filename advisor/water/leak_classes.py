"""Classes of leakage and wetness. Every class is printed with its scheme, because they clash."""

from collections.abc import Mapping
from functools import partial
from types import MappingProxyType
from typing import NamedTuple

import numpy as np

from advisor.water.formula import Formula
from advisor.water.numbers import Band, Floats, Numbers, floats, where

DROP = Band(0.05, 0.10, 0.25)
"""mL. Laboratory drops 0.05, tap drips 0.25 (verified: USGS); a drop off a wet face lies between,
0.06 to 0.11 by Tate's law for a wet tip of 4 to 8 mm (computed)."""


class Scheme(NamedTuple):
    """Upper limits of the classes in L/m2/d, from the driest; the last is that of the wettest."""

    name: str
    limits: tuple[float, ...]
    status: str


SCHEMES: Mapping[str, Scheme] = MappingProxyType(
    {
        "ita-10-m": Scheme(
            "ITA/STUVA (Haack 1991), over 10 m", (0.02, 0.1, 0.2, 0.5, 1.0), "from memory"
        ),
        "ita-100-m": Scheme(
            "ITA/STUVA (Haack 1991), over 100 m", (0.01, 0.05, 0.1, 0.2, 0.5), "from memory"
        ),
        "bts": Scheme(
            "BTS/ICE Specification for Tunnelling, clause 508",
            (0.01, 0.05, 0.1, 0.2, 0.5),
            "verified for classes 1 to 3, from memory for 4 and 5",
        ),
    }
)


def leakage_class(leakage: Numbers, scheme: Scheme) -> Floats:
    """Number of the class by a scheme; one more than it has where even the wettest is passed.

    leakage: L/m2/d, at least 0, else NaN. A leakage at a limit belongs to the drier class.
    """
    q = floats(leakage)
    row = floats(np.searchsorted(scheme.limits, np.where(q >= 0, q, 0.0), side="left"))
    return where(q >= 0, row + 1)


def dripping(drops: Numbers, volume: Numbers = DROP.likely) -> Floats:
    """Flow in L/h of so many drops a minute of so many mL. NaN below 0."""
    n, v = floats(drops), floats(volume)
    return where((n >= 0) & (v >= 0), n * v * 0.06)


def tunnel_leakage(flow: Numbers, length: Numbers, diameter: Numbers) -> Floats:
    """L/m2/d of a round tunnel. flow: L/s over so many m; diameter: m; above 0, else NaN."""
    q, long, d = floats(flow), floats(length), floats(diameter)
    valid = (q >= 0) & (long > 0) & (d > 0)
    return where(valid, q * 86400 / np.where(valid, np.pi * d * long, 1.0))


FORMULAS = (
    Formula(name="dripping", reads=("count", "mL"), unit="L/h", rises="++", point=dripping),
    *(
        Formula(
            name=f"class-{key}",
            reads=("L/m2/d",),
            unit="count",
            rises="+",
            point=partial(leakage_class, scheme=scheme),
        )
        for key, scheme in SCHEMES.items()
    ),
)
