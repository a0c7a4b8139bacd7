"""Quantities of a plan: ranges in, ranges out, from what was found or is taken to be so."""

from dataclasses import dataclass, field
from math import ceil, isnan, nan, nextafter

import numpy as np

from advisor.diagnosis import Place, likely, said, standing
from advisor.knowledge import Knowledge, Quantity, read_aloud
from advisor.repair.result import Amount, Load
from advisor.terms import Range, say_range
from advisor.water import FORMULAS


@dataclass(frozen=True, slots=True)
class Reckoned:
    """A number: all it can be, its likely value, and what it rests on in words.

    ends: None where something is not known; missing: the attributes that would tell; odd: why the
    findings contradict each other.
    """

    ends: Range | None
    likely: float
    from_: tuple[str, ...]
    missing: tuple[str, ...] = ()
    odd: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Ledger:
    """Reckons each quantity of one wet place once."""

    place: Place
    known: dict[str, Reckoned] = field(default_factory=dict)

    def reckon(self, key: str) -> Reckoned:
        """A quantity, or an attribute that is a number."""
        if key not in self.known:
            quantity = self.place.knowledge.quantities.get(key)
            self.known[key] = (
                _found(self, key)
                if quantity is None
                else _fitting(self, quantity, _worked(self, quantity))
            )
        return self.known[key]


def amount(ledger: Ledger, key: str) -> Amount:
    """As the result tells it."""
    knowledge, reckoned = ledger.place.knowledge, ledger.reckon(key)
    from_ = "; ".join(reckoned.from_)
    if reckoned.missing:
        asked = ", ".join(reckoned.missing)
        from_ = knowledge.say("amount-needs", attributes=asked)
    if reckoned.odd:
        from_ = " ".join(reckoned.odd)
    low, middle, high = _three(reckoned)
    return Amount(
        what=key,
        low=low,
        likely=middle,
        high=high,
        unit=unit_of(knowledge, key),
        from_=from_,
    )


def label_of(knowledge: Knowledge, key: str) -> str:
    """What a quantity, or a number attribute, is called."""
    quantity = knowledge.quantities.get(key)
    return quantity.label if quantity is not None else knowledge.attributes[key].label


def unit_of(knowledge: Knowledge, key: str) -> str:
    """The unit of a quantity, or of a number attribute."""
    quantity = knowledge.quantities.get(key)
    return quantity.unit if quantity is not None else knowledge.attributes[key].unit or "count"


def load(ledger: Ledger, material: str, quantity: str) -> Load:
    """What to load of a material: what is needed, and what is lost of it."""
    entry, reckoned = ledger.place.knowledge.materials[material], ledger.reckon(quantity)
    low, middle, high = _three(reckoned)
    waste = entry.waste
    most = waste.lo if waste.is_point else nextafter(waste.hi, -np.inf)
    return Load(
        material=material,
        low=_with(low, waste.lo, entry.unit),
        likely=_with(middle, (waste.lo + most) / 2, entry.unit),
        high=_with(high, most, entry.unit),
        unit=entry.unit,
    )


def _with(needed: float | None, waste: float, unit: str) -> float | None:
    """With what is lost; pieces are whole."""
    if needed is None:
        return None
    wanted = needed * (1 + waste)
    return float(ceil(wanted - 1e-9)) if unit == "count" else wanted


def _three(reckoned: Reckoned) -> tuple[float | None, float | None, float | None]:
    if reckoned.ends is None:
        return None, None, None
    middle = None if isnan(reckoned.likely) else reckoned.likely
    return reckoned.ends.lo, middle, nextafter(reckoned.ends.hi, -np.inf)


def _found(ledger: Ledger, key: str) -> Reckoned:
    """A number that was found, or that was worked out."""
    place = ledger.place
    if not place.is_known(key):
        return Reckoned(None, nan, (), (key,))
    label = place.knowledge.attributes[key].label
    return Reckoned(place.range(key), likely(place, key), (f"{label}: {said(place, key)}",))


def _fitting(ledger: Ledger, quantity: Quantity, found: Reckoned) -> Reckoned:
    """Nothing where it is larger than what it lies in."""
    place = ledger.place
    for key in quantity.within:
        if found.ends is not None and place.is_known(key) and found.ends.lo >= place.range(key).hi:
            told = place.knowledge.say(
                "amount-contradicts", what=quantity.label, limit=standing(place, key)
            )
            return Reckoned(None, nan, (), odd=(told,))
    return found


def _worked(ledger: Ledger, quantity: Quantity) -> Reckoned:
    if quantity.fixed is not None:
        return Reckoned(quantity.fixed, _middle(quantity.fixed), ())
    if quantity.first_of:
        return _first_known(ledger, quantity)
    inputs = [_input(ledger, quantity, key) for key in quantity.inputs]
    missing = tuple(dict.fromkeys(key for one in inputs for key in one.missing))
    from_ = tuple(dict.fromkeys(text for one in inputs for text in one.from_))
    ends = [one.ends for one in inputs]
    odd = tuple(dict.fromkeys(text for one in inputs for text in one.odd))
    if missing or any(end is None for end in ends):
        return Reckoned(None, nan, from_, missing, odd)
    formula = FORMULAS[quantity.formula or ""]
    low, high = formula(tuple((np.array([e.lo]), np.array([e.hi])) for e in ends if e is not None))
    if isnan(low[0]) or isnan(high[0]):
        return Reckoned(None, nan, from_)
    middle = float(formula.likely(*(np.array(one.likely) for one in inputs)))
    found = Range(float(low[0]), float(high[0]))
    if not isnan(middle):  # the middle of steps may stand just beside their ends
        middle = min(max(middle, found.lo), nextafter(found.hi, -np.inf))
    return Reckoned(found, middle, from_)


def _first_known(ledger: Ledger, quantity: Quantity) -> Reckoned:
    for key in quantity.first_of:
        reckoned = ledger.reckon(key)
        if reckoned.ends is not None or reckoned.odd:
            return reckoned
    for key in quantity.first_of:
        if key in quantity.assumed:
            return _assumed(ledger, quantity, key)
    missing = dict.fromkeys(k for key in quantity.first_of for k in ledger.reckon(key).missing)
    return Reckoned(None, nan, (), tuple(missing))


def _input(ledger: Ledger, quantity: Quantity, key: str) -> Reckoned:
    reckoned = ledger.reckon(key)
    if reckoned.ends is None and not reckoned.odd and key in quantity.assumed:
        return _assumed(ledger, quantity, key)
    return reckoned


def _assumed(ledger: Ledger, quantity: Quantity, key: str) -> Reckoned:
    knowledge, taken = ledger.place.knowledge, quantity.assumed[key]
    number = read_aloud(knowledge, say_range(taken, unit_of(knowledge, key)))
    told = knowledge.say("sum-assumed", what=label_of(knowledge, key), number=number)
    return Reckoned(taken, _middle(taken), (told,))


def _middle(ends: Range) -> float:
    return ends.lo if ends.is_point else (ends.lo + nextafter(ends.hi, -np.inf)) / 2
