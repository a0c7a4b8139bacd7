"""Dew point of air, and how far a surface lies above it.

Source: Magnus formula with the constants 17.62 and 243.12 °C for vapour over water
(World Meteorological Organization, guide to instruments; constants from memory,
checked in the tests against a psychrometric library). Valid from -45 to 60 °C.
"""

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Range = tuple[Floats, Floats]

A = 17.62
B = 243.12  # °C
COLDEST, WARMEST = -45.0, 60.0  # °C


def dew_point(air: Floats, humidity: Floats) -> Floats:
    """Dew point in °C of air at `air` °C and `humidity` % relative humidity.

    Arrays of any one shape. NaN outside -45 to 60 °C, or where the humidity is not
    above 0 and at most 100 %.
    """
    air, humidity = np.asarray(air, dtype=np.float64), np.asarray(humidity, dtype=np.float64)
    valid = (air >= COLDEST) & (air <= WARMEST) & (humidity > 0) & (humidity <= 100)
    safe_air, safe_humidity = np.where(valid, air, 20.0), np.where(valid, humidity, 50.0)
    gamma = np.log(safe_humidity / 100) + A * safe_air / (B + safe_air)
    return np.where(valid, B * gamma / (A - gamma), np.nan)


def dew_margin(surface: Range, air: Range, humidity: Range) -> Range:
    """Surface temperature minus dew point, in K: at or below 0, water settles from the air.

    Ranges lo <= x < hi of °C, °C and %; arrays (rows,). The dew point rises with air
    temperature and humidity, so the ends of the margin come from the opposite ends.
    NaN where a range reaches outside the validity of the formula.
    """
    top_air, top_humidity = _last(air), _last(humidity)
    lowest = surface[0] - dew_point(top_air, top_humidity)
    highest = _last(surface) - dew_point(air[0], humidity[0])
    return lowest, np.nextafter(highest, np.inf)


def _last(ends: Range) -> Floats:
    """The last number inside lo <= x < hi."""
    return np.nextafter(ends[1], -np.inf)
