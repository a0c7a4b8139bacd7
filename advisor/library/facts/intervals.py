"""Intervals of counts: for a share, and for a number of events."""

from statistics import NormalDist


def wilson(right: int, of: int, level: float = 0.95) -> tuple[float, float]:
    """The interval of a share: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209. (0, 1) of none."""
    if not of:
        return 0.0, 1.0
    z = NormalDist().inv_cdf((1 + level) / 2)
    share, squared = right / of, z * z / of
    middle = (share + squared / 2) / (1 + squared)
    reach = z * (share * (1 - share) / of + squared / (4 * of)) ** 0.5 / (1 + squared)
    # At the ends rounding would leave a little more or less than nothing.
    low = 0.0 if right == 0 else max(middle - reach, 0.0)
    high = 1.0 if right == of else min(middle + reach, 1.0)
    return low, high


def garwood(events: int, level: float = 0.95) -> tuple[float, float]:
    """The exact interval of the mean of a Poisson count: F. Garwood, Biometrika 28 (1936) 437.

    Half the quantiles of chi squared with 2 n and 2 n + 2 degrees of freedom, which are those of
    the gamma distribution of shapes n and n + 1.
    """
    from scipy.special import gammaincinv  # noqa: PLC0415 - slow to load

    tail = (1 - level) / 2
    low = float(gammaincinv(events, tail)) if events else 0.0
    return low, float(gammaincinv(events + 1, 1 - tail))
