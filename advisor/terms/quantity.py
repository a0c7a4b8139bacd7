"""Numbers with units: a value is a range of what it can still be."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from advisor.terms.units import Unit, convert, nearest_unit, unit_named, units_of

LONGEST = 64
_FORMS = "such as {0}, {1} or under {0}"


class Unreadable(ValueError):  # noqa: N818 - what callers say: "unreadable"
    """A quantity that cannot be read. The caller adds the place."""

    def __init__(self, message: str, expected: str, nearest: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.expected = expected
        self.nearest = nearest


@dataclass(frozen=True, slots=True)
class Range:
    """All x with lo <= x < hi. Never empty: ValueError unless hi > lo."""

    lo: float
    hi: float

    def __post_init__(self) -> None:
        if not self.hi > self.lo:
            raise ValueError(f"an empty range: {self.lo} to {self.hi}")

    @classmethod
    def point(cls, x: float) -> Range:
        """Just `x`."""
        return cls(x, math.nextafter(x, math.inf))

    @property
    def is_point(self) -> bool:
        return self.hi == math.nextafter(self.lo, math.inf)

    def contains(self, x: float) -> bool:
        return self.lo <= x < self.hi

    def within(self, a: float, b: float) -> bool:
        """Whether all of it lies in a <= x < b."""
        return a <= self.lo and self.hi <= b


# The digits, then whatever must not follow them.
_NUMBER = re.compile(
    r"\s*(?P<sign>[-+]?)"
    r"(?:(?:(?P<whole>[0-9]+)\s+)?(?P<top>[0-9]+)/(?P<bottom>[0-9]+)"
    r"|(?P<decimal>[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+))"
    r"(?P<more>(?:[eE][0-9]+)?\s*[0-9.,/]*)"
)
_FEET_INCHES = re.compile(
    r"(?<![0-9.,/])(?<![0-9.,/] )(?P<feet>[0-9]+)\s*(?:ft|foot|feet|')\s*"
    r"(?P<inches>[0-9][0-9 .,/]*?)\s*(?:inches|inch|in|\"|'')(?![a-z])",
    re.I,
)
_TO = re.compile(r"(?P<unit>[^-]*?)\s*(?:-|(?<![a-z0-9/])to(?![a-z/]))\s*(?=[-+]?[.,]?[0-9])", re.I)
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_BOUND = re.compile(r"(under|over|at least|at most|<=|>=|≤|≥|<|>)(?![a-z])\s*(.*)", re.I)
_BOUNDS = {"<": "under", ">": "over", "≥": "at least", ">=": "at least"}
_BOUNDS |= {"≤": "at most", "<=": "at most"}
_SIGNS = str.maketrans({"−": "-", "–": "-", "—": "-", "‑": "-", "\u00a0": " ", "\u202f": " "})


def read_quantity(
    text: str, unit: str, *, lowest: float = -math.inf, highest: float = math.inf
) -> Range:
    """What `text` says, as a range in `unit`.

    Forms: `V UNIT`, `A-B UNIT`, `A to B UNIT`, `under V UNIT`, `over V UNIT`,
    `at least V UNIT`, `at most V UNIT`, `unknown`; a length also as `11 ft 6 in`. `lowest`
    and `highest` are the limits of what can be, in `unit`; both may be reached.

    Raises Unreadable. Raises ValueError when `unit` is not in the table.
    """
    target = unit_named(unit)
    if target is None:
        raise ValueError(f"no such unit: {unit}")
    if len(text) > LONGEST:
        raise Unreadable(f"more than {LONGEST} characters", _expected(target))
    written = " ".join(text.translate(_SIGNS).split())
    if target.symbol == "pH":
        written = re.sub(r"\bph\b", "", written, flags=re.IGNORECASE).strip()
    if target.dimension == "length":
        written = _FEET_INCHES.sub(lambda both: _in_inches(both, target), written)
    lowest, highest = float(lowest), float(highest)
    top = math.nextafter(highest, math.inf)
    if written == "unknown":
        return Range(lowest, top)
    if bound := _BOUND.fullmatch(written):
        kind = _BOUNDS.get(bound[1], bound[1].lower())
        ends = _ends(bound[2], target)
    else:
        kind, ends = "between", _ends(written, target)
    if kind != "between" and ends.ranged:
        raise Unreadable(f'"{kind}" with two numbers', _expected(target))
    _check_limits(ends, target, lowest, highest)
    return _range(kind, ends, target, lowest, top)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Ends:
    low: float
    high: float
    ranged: bool


def _ends(written: str, target: Unit) -> _Ends:
    first, rest = _number(written, target)
    if not (to := _TO.match(rest)):
        low, high = convert(first, _unit(rest, target), target)
        return _Ends(low=float(low), high=float(high), ranged=False)
    last, rest = _number(rest[to.end() :], target)
    unit = _unit(rest, target)
    first_unit = _unit(to["unit"], target) if to["unit"].strip() else unit
    low, low_top = convert(first, first_unit, target)
    high_bottom, high = convert(last, unit, target)
    if low > high_bottom or low_top > high:
        raise Unreadable("the larger number stands first", "the smaller number first")
    return _Ends(low=float(low), high=float(high), ranged=True)


def _number(written: str, target: Unit) -> tuple[Fraction, str]:
    """The number that `written` starts with, and the text after it."""
    match = _NUMBER.match(written)
    if match is None:
        raise Unreadable(f'"{written}" does not start with a number', _expected(target))
    if match["more"].strip() or _THOUSANDS.fullmatch(match["decimal"] or ""):
        raise Unreadable(
            f'"{match[0].strip()}" is not one clear number',
            "a number without thousands separators, such as 1250 or 1.25",
        )
    if match["decimal"]:
        value = Fraction(match["decimal"].replace(",", "."))
    elif int(match["bottom"]) == 0:
        raise Unreadable("a fraction over 0", _expected(target))
    else:
        value = int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    return -value if match["sign"] == "-" else value, written[match.end() :]


def _in_inches(both: re.Match[str], target: Unit) -> str:
    """`11 ft 6 in` as `138/1 in`."""
    inches, rest = _number(both["inches"], target)
    if rest.strip():
        return both[0]
    total = 12 * int(both["feet"]) + inches
    return f"{total.numerator}/{total.denominator} in"


def _unit(written: str, target: Unit) -> Unit:
    name = written.strip()
    symbols = ", ".join(unit.symbol for unit in units_of(target.dimension))
    if not name:
        if target.bare:
            return target
        raise Unreadable("the unit is missing", f"a unit: {symbols}")
    unit = unit_named(name)
    if unit is not None and unit.dimension == target.dimension:
        return unit
    expected = "a number without a unit" if target.bare else f"a unit: {symbols}"
    message = f'"{name}" is no unit' if unit is None else f'"{name}" is a unit of {unit.dimension}'
    if unit is not None:
        message = f"{message}, not of {target.dimension}"
    raise Unreadable(message, expected, nearest_unit(name, target.dimension))


def _check_limits(ends: _Ends, target: Unit, lowest: float, highest: float) -> None:
    if ends.low >= lowest and ends.high <= highest:
        return
    outside = ends.low if ends.low < lowest else ends.high
    if math.isinf(highest):
        limits = f"at least {_with_unit(say_number(lowest), target)}"
    elif math.isinf(lowest):
        limits = f"at most {_with_unit(say_number(highest), target)}"
    else:
        limits = _with_unit(_between(lowest, highest), target)
    raise Unreadable(f"{_with_unit(say_number(outside), target)} cannot be", limits)


def _range(kind: str, ends: _Ends, target: Unit, lowest: float, top: float) -> Range:
    """The range of a bound. One that leaves nothing possible is refused."""
    above = math.nextafter(ends.high, math.inf)
    lo, hi = {
        "between": (ends.low, ends.high if ends.high > ends.low else above),
        "under": (lowest, ends.high),
        "at most": (lowest, above),
        "over": (math.nextafter(ends.low, math.inf), top),
        "at least": (ends.low, top),
    }[kind]
    if hi > lo:
        return Range(lo, hi)
    edge = _with_unit(say_number(ends.low), target)
    raise Unreadable(f"nothing can be {kind} {edge}", f'{edge}, without "{kind}"')


def _expected(target: Unit) -> str:
    return _FORMS.format(_with_unit("3", target), _with_unit("2-4", target))


def say_range(
    range_: Range, unit: str, *, lowest: float = -math.inf, highest: float = math.inf
) -> str:
    """A short text that `read_quantity` reads: `0.2-0.3 mm`, `under 2 L/h`, `0.3 mm`.

    With the limits of the attribute given, a range that reaches one is said by the other
    end only. Numbers are shown to four figures, more where two ends would look alike.
    """
    shown = unit_named(unit)
    if shown is None:
        raise ValueError(f"no such unit: {unit}")
    lo, hi, top = range_.lo, range_.hi, math.nextafter(highest, math.inf)
    if range_.is_point:
        return _with_unit(say_number(lo), shown)
    if lo <= lowest and hi >= top:
        return "unknown"
    if lo <= lowest:
        closed = _just_above(hi)
        kind, edge = ("under", hi) if closed is None else ("at most", closed)
    elif hi >= top:
        opened = _just_above(lo)
        kind, edge = ("at least", lo) if opened is None else ("over", opened)
    else:
        return _with_unit(_between(lo, hi), shown)
    return f"{kind} {_with_unit(say_number(edge), shown)}"


def say_number(x: float, figures: int = 4) -> str:
    """A number without exponent; whole numbers whole, others to so many figures."""
    if abs(x) < 1e15 and x == int(x):
        return str(int(x))
    rounded = f"{x:.{figures}g}"
    if "e" not in rounded:
        return rounded
    return f"{float(rounded):.20f}".rstrip("0").rstrip(".") if abs(x) < 1 else f"{x:.0f}"


def _between(lo: float, hi: float) -> str:
    low, high = say_number(lo), say_number(hi)
    for figures in (6, 9, 12, 17):
        if low != high:
            break
        low, high = say_number(lo, figures), say_number(hi, figures)
    return f"{low} to {high}" if lo < 0 else f"{low}-{high}"


def _just_above(x: float) -> float | None:
    """The short number that `x` is the next float after, if there is one."""
    below = math.nextafter(x, -math.inf)
    return below if below == float(f"{below:.12g}") else None


def _with_unit(number: str, unit: Unit) -> str:
    if unit.symbol == "pH":
        return f"pH {number}"
    symbol = "" if unit.bare else f" {unit.one if number == '1' else unit.symbol}"
    return f"{number}{symbol}"
