"""One length over another, such as the length of a wall over its height."""

import numpy as np
import numpy.typing as npt

Range = tuple[npt.NDArray[np.float64], npt.NDArray[np.float64]]


def proportion(length: Range, height: Range) -> Range:
    """Ranges lo <= x < hi of lengths above 0, in one unit, (rows,) each. No unit."""
    last_length = np.nextafter(length[1], -np.inf)
    last_height = np.nextafter(height[1], -np.inf)
    return length[0] / last_height, np.nextafter(last_length / height[0], np.inf)
