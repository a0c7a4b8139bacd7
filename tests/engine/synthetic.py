"""A made-up rule base of any size, and random rows for it. Seeded, so every run is the same."""

from dataclasses import replace

import numpy as np

from advisor.engine.engine import Engine
from advisor.engine.family import Weight, build_table
from advisor.engine.layout import Table
from advisor.engine.model import (
    All,
    AnyOf,
    Condition,
    Deduction,
    Family,
    Hypothesis,
    Model,
    Need,
    Not,
    Test,
    Variable,
)

Random = np.random.Generator


def synthetic_model(
    *,
    hypotheses: int = 41,
    families: int = 50,
    deductions: int = 60,
    observed: int = 90,
    numbers: int = 12,
    needs: int = 8,
    seed: int = 1,
) -> Model:
    """Observed choices and numbers; deduced choices in three layers; families over all of them."""
    random = np.random.default_rng(seed)
    choices = [_choice_variable(random, f"seen-{i}") for i in range(observed)]
    choices = [
        replace(v, applies=_test(random, choices[i - 9]), unsure_when=_test(random, choices[i - 8]))
        if i > 60 and i % 6 == 0
        else v
        for i, v in enumerate(choices)
    ]
    measured = [Variable(key=f"number-{i}", lowest=0.0, highest=100.0) for i in range(numbers)]
    layers = [[_choice_variable(random, f"deduced-{k}-{i}") for i in range(6)] for k in range(3)]
    below: list[Variable] = [*choices[:50], *measured]
    rules = []
    for k, layer in enumerate(layers):
        for i in range(deductions // 3 + (k < deductions % 3)):
            target = layer[i % len(layer)]
            strikes = frozenset([str(random.choice(target.choices))])
            rules.append(
                Deduction(
                    key=f"rule-{k}-{i}",
                    when=random_condition(random, below, depth=2),
                    variable=target.key,
                    strikes=strikes,
                )
            )
        below = [*below, *layer]
    names = [f"hypothesis-{i}" for i in range(hypotheses)]
    read = [*[v for layer in layers for v in layer], *measured, *choices[50:]][:families]
    variables = (*choices, *measured, *(v for layer in layers for v in layer))
    return Model(
        variables=variables,
        hypotheses=tuple(
            Hypothesis(
                key=name,
                base=float(random.uniform(0.01, 0.1)),
                needs=(f"need-{i % needs}",) if needs and i % 3 == 0 else (),
            )
            for i, name in enumerate(names)
        ),
        deductions=tuple(rules),
        families=tuple(
            random_family(
                random,
                v,
                names,
                story=f"story-{i % 4}" if i % 3 == 0 else None,
                given=random_condition(random, choices[:20], depth=1) if i % 10 == 9 else None,
            )
            for i, v in enumerate(read)
        ),
        needs=tuple(
            Need(key=f"need-{i}", when=_test(random, choices[i]), share=0.3 + 0.05 * i)
            for i in range(needs)
        ),
    )


def random_condition(random: Random, variables: list[Variable], depth: int) -> Condition:
    """A nested condition of tests on some of the variables."""
    if depth == 0 or random.random() < 0.3:
        test = _test(random, variables[int(random.integers(len(variables)))])
        return Not(test) if random.random() < 0.25 else test
    parts = tuple(
        random_condition(random, variables, depth - 1) for _ in range(int(random.integers(2, 4)))
    )
    return All(parts) if random.random() < 0.5 else AnyOf(parts)


def random_family(
    random: Random,
    variable: Variable,
    names: list[str],
    *,
    story: str | None = None,
    given: Condition | None = None,
) -> Family:
    """A family over a variable with random shares and random words for a third of the names."""
    if variable.is_choice:
        readings, edges = variable.choices, ()
    else:
        edges = tuple(sorted(float(e) for e in random.choice(np.arange(5, 95), 3, replace=False)))
        readings = tuple(f"band-{i}" for i in range(len(edges) + 1))
    shares = random.dirichlet(np.full(len(readings), 4.0)) * 0.9 + 0.1 / len(readings)
    words = [Weight(times=t, at_most=0.55 if t > 1 else None) for t in (10, 3, 2, 0.5, 0.1)]
    times = {
        name: {str(random.choice(readings)): words[int(random.integers(len(words)))]}
        for name in names
        if random.random() < 0.35
    }
    times = {
        name: said
        for name, said in times.items()
        if all(shares[readings.index(r)] < 0.5 for r in said)
    }
    built = build_table(readings, list(shares), names, times)
    assert not built.faults, built.faults
    return Family(
        key=f"family-{variable.key}",
        variable=variable.key,
        readings=tuple(readings),
        shares=shares / shares.sum(),
        likelihood=built.likelihood,
        mentioned=built.mentioned,
        edges=edges,
        story=story,
        given=given,
    )


def random_rows(
    engine: Engine,
    rows: int,
    *,
    seed: int = 2,
    known: float = 0.6,
    unsure: float = 0.15,
    half_known: float = 0.2,
) -> Table:
    """Random findings: points, half-known sets, unknowns, some unsure."""
    random = np.random.default_rng(seed)
    table = engine.blank(rows)
    layout = engine.layout
    deduced = {d.variable for d in engine.model.deductions}
    for variable in layout.variables:
        row = layout.row[variable.key]
        found = random.random(rows) < known
        table.sure[row] = (random.random(rows) >= unsure) | ~found
        if variable.is_choice:
            if variable.key in deduced:
                continue
            c = layout.choice_row[variable.key]
            size = len(variable.choices)
            one = 1 << random.integers(0, size, rows)
            more = random.integers(1, 1 << size, rows)
            mask = np.where(random.random(rows) < half_known, more, one)
            table.masks[c] = np.where(found, mask, layout.full[c])
        else:
            c = layout.number_row[variable.key]
            low = random.uniform(0, 99, rows)
            width = np.where(random.random(rows) < half_known, random.uniform(0, 30, rows), 0)
            high = np.minimum(np.nextafter(low + width, np.inf), variable.highest)
            table.lo[c] = np.where(found, low, variable.lowest)
            table.hi[c] = np.where(found, high, variable.highest)
    return table


def _choice_variable(random: Random, key: str) -> Variable:
    return Variable(key=key, choices=tuple("abcdefg"[: int(random.integers(2, 7))]))


def _test(random: Random, variable: Variable) -> Test:
    if variable.is_choice:
        size = int(random.integers(1, len(variable.choices)))
        return Test(
            variable.key,
            frozenset(str(c) for c in random.choice(variable.choices, size, replace=False)),
        )
    edge = float(random.integers(10, 90))
    return Test(variable.key, (edge, float(np.inf)) if random.random() < 0.5 else (0.0, edge))
