"""Numbers to try formulas with: thousands of boxes of inputs, and points inside them."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from advisor.water import FORMULAS, SAME, Formula, Range
from advisor.water.numbers import Floats

ROWS = 2000

SENSIBLE: Mapping[str, tuple[float, float]] = {
    SAME: (-1000, 1000),
    "mm": (0, 2000),
    "m": (0.1, 200),
    "m2": (0.01, 10_000),
    "m3": (0.01, 10_000),
    "L": (0, 1e6),
    "mL": (0.01, 1),
    "L/h": (0, 1e5),
    "L/h/m": (0, 1e4),
    "L/m2/d": (0, 1000),
    "mm/d": (0, 100),
    "m/s": (1e-14, 1e-2),
    "°C": (-60, 110),  # past the limits of every formula
    "K": (0, 120),
    "%": (0, 100),
    "kPa": (0, 2000),
    "MPa": (0.1, 120),
    "N/mm2": (0.1, 120),
    "bar": (0, 200),
    "deg": (5, 90),
    "kg/m2": (0.1, 10),
    "kg/L": (0.5, 3),
    "kg": (0, 1e5),
    "kg/m3": (0, 3000),
    "mg/L": (0, 50_000),
    "µS/cm": (0, 60_000),
    "pH": (0, 14),
    "h": (0, 10_000),
    "days": (0, 40_000),
    "d": (0, 40_000),
    "count": (1, 1000),
    "ratio": (0, 1000),
}
"""Lowest and highest of each unit."""

HEAD, SPAN, CRACK, MEASURE = (-5.0, 60.0), (-50.0, 2000.0), (0.0, 5.0), (20.0, 5000.0)
SEEN, SEEN_MM = (0.1, 100.0), (0.1, 2000.0)

FOR_FORMULA: Mapping[str, Mapping[int, tuple[float, float]]] = {
    # A formula that divides by an input, and has no words for a 0 there, is not asked it.
    "ratio": {1: (0.001, 1000)},
    "net-drop": {2: (0.1, 365)},
    "net-drop-corrected": {3: (0.1, 365)},
    "days-of-test": {0: (0.001, 100)},
    "top-restraint": {0: (0.01, 100)},
    "dose-deviation": {1: (0.01, 20)},
    "gradient": {0: HEAD, 1: SPAN},
    "water-pressure": {0: HEAD},
    "crack-flow": {0: CRACK, 1: HEAD, 2: SPAN},
    "hydraulic-width": {1: HEAD, 2: SPAN},
    "head-exponent": {2: HEAD, 3: HEAD},
    "hole-flow": {0: (0.0, 50.0), 1: HEAD, 2: SPAN},
    "round-gap-flow": {0: (0.1, 1000.0), 1: CRACK, 2: SPAN, 4: HEAD},
    "capillary-rise": {0: (0.001, 10.0)},
    "healing-time": {0: (0.0, 0.4)},
    "slab-lifting-head": {0: MEASURE},
    "floating-head": {0: SEEN, 1: SEEN, 2: SEEN, 3: MEASURE, 4: MEASURE},
    "allowed-head-en-1997": {0: SEEN, 1: SEEN, 2: SEEN, 3: MEASURE, 4: MEASURE},
    "allowed-head-united-kingdom": {0: SEEN, 1: SEEN, 2: SEEN, 3: MEASURE, 4: MEASURE},
    "packer-spacing": {0: SEEN_MM},
    "port-spacing": {0: SEEN_MM},
    "packers-along": {1: SEEN_MM},
    "hole-length": {0: SEEN_MM},
    "hole-offset": {0: SEEN_MM},
    "curtain-holes": {2: SEEN_MM},
    "pressure-ceiling": {1: SEEN_MM},
    "pores-volume": {2: (0.0, 1.0)},
    "part-of": {1: (0.0, 1.0)},
    "with-loss": {1: (1.0, 10.0)},
    "sealant-width": {1: (1.0, 100.0)},
    "sealant-depth": {0: (0.1, 50.0)},
    "backer-rod": {0: SEEN_MM},
    "compression-seal-width": {0: (20.0, 40.0), 1: (0.0, 9.0)},
    "water-to-leave": {0: SEEN, 1: SEEN, 2: SEEN, 3: MEASURE, 4: MEASURE, 5: HEAD},
}
"""Where a formula is asked for something else: by the place of the input."""


@dataclass(frozen=True, slots=True)
class Boxes:
    """lowest, highest: of each input; inside: a point in each box; (inputs, rows)."""

    lowest: Floats
    highest: Floats
    inside: Floats

    def ranges(self) -> tuple[Range, ...]:
        """lo <= x < hi, as formulas take them."""
        return tuple(zip(self.lowest, np.nextafter(self.highest, np.inf), strict=True))


def domain(formula: Formula) -> list[tuple[float, float]]:
    """Lowest and highest of each input that a formula is asked for."""
    own = FOR_FORMULA.get(formula.name, {})
    return [own.get(place, SENSIBLE[unit]) for place, unit in enumerate(formula.reads)]


def boxes(formula: Formula, seed: int, rows: int = ROWS) -> Boxes:
    """Boxes of all sizes within the domain, single values among them."""
    draw = np.random.default_rng(seed)
    ends = np.array(domain(formula))[:, :, None]
    low, high = ends[:, 0], ends[:, 1]
    shape = (len(ends), rows)
    # Half of them crowd at the lower end, where small numbers are: cracks, flows.
    crowd = np.where(draw.random(rows) < 0.5, 1.0, 4.0)
    lowest = low + (high - low) * draw.random(shape) ** crowd
    lowest = np.where(draw.random(shape) < 0.02, low, lowest)
    size = draw.random(shape) ** draw.choice([1.0, 4.0, 12.0], rows)
    highest = lowest + (high - lowest) * np.where(draw.random(shape) < 0.1, 0.0, size)
    part = draw.choice([0.0, 1.0, 0.5, np.nan], shape)
    part = np.where(np.isnan(part), draw.random(shape), part)
    inside = np.clip(lowest + part * (highest - lowest), lowest, highest)
    return Boxes(lowest, highest, inside)


def bands(formula: Formula, seed: int, rows: int = ROWS) -> list[Floats]:
    """Values of each band: its ends, its likely value, and others between."""
    draw = np.random.default_rng(seed)
    found = []
    for band in formula.bands:
        values = draw.uniform(band.low, band.high, rows)
        ends = np.array([band.low, band.likely, band.high])[draw.integers(0, 3, rows)]
        found.append(np.where(draw.random(rows) < 0.75, ends, values))
    return found


def all_formulas() -> list[Formula]:
    return list(FORMULAS.values())
