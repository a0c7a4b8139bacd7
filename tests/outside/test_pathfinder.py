"""The engine on a real, larger problem whose exact answer is known: the Pathfinder network.

The engine takes the findings of a fault as independent; the network knows better. What is
measured is what that costs. Source of the network: see pathfinder.py.
"""

from dataclasses import dataclass, replace

import numpy as np
import pytest

from advisor.engine.engine import Engine, compile_engine
from advisor.engine.layout import Table
from advisor.engine.model import Bools, Family, Floats, Hypothesis, Model, Variable
from tests.outside.pathfinder import Answers, Pathfinder

CASES, ASKED, KNOWN = 10_000, 1_000, 0.25
LEAST_CELL = 0.001
ENOUGH = 0.90


@pytest.fixture(scope="module")
def network() -> Pathfinder:
    return Pathfinder()


def model_of(network: Pathfinder) -> Model:
    """P(finding | fault) as families, given whole; slips off."""
    faults = tuple(f"fault-{i}" for i in range(network.prior.size))
    families, variables = [], []
    for name, given in zip(network.findings, network.given_fault, strict=True):
        raised = np.maximum(given, LEAST_CELL)
        likelihood = raised / raised.sum(axis=0)
        states = tuple(f"state-{i}" for i in range(len(given)))
        variables.append(Variable(key=name, choices=states))
        families.append(
            Family(
                key=name,
                variable=name,
                readings=states,
                shares=likelihood @ network.prior,
                likelihood=likelihood,
                mentioned=np.ones(len(faults), dtype=np.bool_),
            )
        )
    return Model(
        variables=tuple(variables),
        families=tuple(families),
        hypotheses=tuple(
            Hypothesis(key=f, base=float(p)) for f, p in zip(faults, network.prior, strict=True)
        ),
        right_sure=1.0,
        right_unsure=1.0,
    )


def table_of(engine: Engine, answers: Answers) -> Table:
    """Cases as rows: the state found, or everything."""
    table = engine.blank(len(answers))
    known = answers.T >= 0
    table.masks[:] = np.where(known, 1 << np.maximum(answers.T, 0), table.masks)
    return table


def calibration_error(leader: Floats, right: Bools) -> float:
    """Expected calibration error of the leader's belief, 10 equal bins."""
    place = np.minimum((leader * 10).astype(int), 9)
    gaps = [
        (place == i).mean() * abs(leader[place == i].mean() - right[place == i].mean())
        for i in np.unique(place)
    ]
    return float(sum(gaps))


@dataclass(frozen=True, slots=True)
class Score:
    top: float
    top_three: float
    calibration: float

    def __str__(self) -> str:
        return f"top-1 {self.top:.3f}, top-3 {self.top_three:.3f}, ECE {self.calibration:.3f}"


def score(beliefs: Floats, faults: Answers) -> Score:
    ranked = np.argsort(-beliefs, axis=1)
    right = ranked[:, 0] == faults
    return Score(
        float(right.mean()),
        float((ranked[:, :3] == faults[:, None]).any(axis=1).mean()),
        calibration_error(beliefs.max(axis=1), right),
    )


def test_a_quarter_of_the_findings_known(network: Pathfinder) -> None:
    random = np.random.default_rng(2024)
    faults, findings = network.sample(random, CASES)
    known = np.where(random.random(findings.shape) < KNOWN, findings, -1)
    model = model_of(network)
    engine = compile_engine(model)
    ours = score(engine.beliefs(table_of(engine, known)), faults)
    slipping = compile_engine(replace(model, right_sure=0.97))
    with_slips = score(slipping.beliefs(table_of(slipping, known)), faults)
    exact = score(network.exact(known), faults)
    print(f"\nexact {exact}\nours  {ours}\nwith slips {with_slips}")
    assert ours.top >= exact.top - 0.035
    assert ours.calibration <= 0.04


class Asker:
    """Asks for the finding with the lowest expected entropy, until one fault is believed enough."""

    def __init__(self, engine: Engine) -> None:
        model = engine.model
        tables = [
            model.right_sure * f.likelihood + (1 - model.right_sure) * f.shares[:, None]
            for f in model.families
        ]
        self.engine = engine
        self.first = np.cumsum([0, *(len(table) for table in tables[:-1])])
        self.chance = np.concatenate(tables).T
        self.chance_log = self.chance * np.log(self.chance)

    def expected_entropy(self, beliefs: Floats) -> Floats:
        """(cases, findings), in nats: what is left on average when the finding is known."""
        met = beliefs @ self.chance
        log = np.log(np.where(beliefs > 0, beliefs, 1))
        of_joint = (beliefs * log) @ self.chance + beliefs @ self.chance_log
        return np.add.reduceat(met * np.log(met) - of_joint, self.first, axis=1)

    def ask(self, findings: Answers) -> tuple[Floats, Answers]:
        """Beliefs at the end, and how many questions each case took."""
        cases = len(findings)
        known = np.full_like(findings, -1)
        beliefs = self.engine.beliefs(table_of(self.engine, known))
        asked = np.zeros(cases, dtype=np.int64)
        open_ = np.flatnonzero(beliefs.max(axis=1) < ENOUGH)
        while open_.size:
            entropy = self.expected_entropy(beliefs[open_])
            entropy[known[open_] >= 0] = np.inf
            chosen = entropy.argmin(axis=1)
            known[open_, chosen] = findings[open_, chosen]
            asked[open_] += 1
            beliefs[open_] = self.engine.beliefs(table_of(self.engine, known[open_]))
            going_on = (beliefs[open_].max(axis=1) < ENOUGH) & (known[open_] < 0).any(axis=1)
            open_ = open_[going_on]
        return beliefs, asked


def test_asking_until_one_fault_is_believed_enough(network: Pathfinder) -> None:
    faults, findings = network.sample(np.random.default_rng(7), ASKED)
    model = model_of(network)
    for right in (0.97, 1.0):
        beliefs, asked = Asker(compile_engine(replace(model, right_sure=right))).ask(findings)
        hits = float((beliefs.argmax(axis=1) == faults).mean())
        median = float(np.median(asked))
        never = float((beliefs.max(axis=1) < ENOUGH).mean())
        print(
            f"\nright {right}: median {median:g}, mean {asked.mean():.1f} questions,"
            f" {hits:.3f} right, {never:.3f} never reach {ENOUGH}"
        )
    assert median <= 5
    assert hits >= 0.94
