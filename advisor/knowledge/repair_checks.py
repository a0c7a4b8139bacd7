"""Faults of what is said about repair as a whole: limits never kept, work that waits for itself."""

from collections.abc import Iterator, Mapping

from advisor.engine import Condition, Model, can_be_true, find_cycle
from advisor.knowledge.folder import Sections
from advisor.knowledge.repair_entries import Material, Method, Quantity
from advisor.terms import Problem, problem_at


def never_met(
    conditions: Mapping[str, Condition], model: Model, sections: Sections
) -> Iterator[Problem]:
    """Conditions that no wet place can meet."""
    variables = {v.key: v for v in model.variables}
    for name, condition in conditions.items():
        if not can_be_true(condition, variables):
            section, _, part = name.partition(" ")
            key = part.partition("/")[0]
            place = sections[section][key].place
            yield problem_at(place, "this condition can never be true", key=key)


def made_in_circles(methods: Mapping[str, Method], sections: Sections) -> Iterator[Problem]:
    """Methods that need what only they, or what comes after them, can make; and orders that bite
    their own tail."""
    makers: dict[str, set[str]] = {}
    for method in methods.values():
        for limit in method.makes:
            makers.setdefault(limit, set()).add(method.key)
    waits = {
        method.key: {m for limit in method.limits for m in makers.get(limit, ())}
        | {key for key in method.first if key in methods}
        for method in methods.values()
    }
    if cycle := find_cycle(waits):
        told = f"it waits for itself: {' -> '.join((*cycle, cycle[0]))}"
        yield problem_at(sections["methods"][cycle[0]].place, told, key=cycle[0])


def other_units(
    methods: Mapping[str, Method],
    materials: Mapping[str, Material],
    quantities: Mapping[str, Quantity],
    sections: Sections,
) -> Iterator[Problem]:
    """Materials counted in another unit than the quantity that says how much."""
    for method in methods.values():
        for key, amount in method.materials.items():
            material, quantity = materials.get(key), quantities.get(amount)
            if material is not None and quantity is not None and material.unit != quantity.unit:
                yield problem_at(
                    sections["methods"][method.key].place,
                    f"{key} is counted in {material.unit}, {amount} in {quantity.unit}",
                    key=method.key,
                    expected=f"a quantity in {material.unit}",
                )
