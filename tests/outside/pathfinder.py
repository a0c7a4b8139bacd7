"""The Pathfinder network: 63 lymph-node diseases, 108 findings.

Heckerman, Horvitz, Nathwani: Toward normative expert systems, part I (1992). The file is the
one of the Bayesian Network Repository (https://www.bnlearn.com/bnrepository) as it lies in
the wheel of pgmpy; pyAgrum reads it and answers it exactly.
"""

import gzip
from functools import cached_property
from importlib.util import find_spec
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np
import numpy.typing as npt
import pyagrum

from advisor.engine.model import Floats

Answers = npt.NDArray[np.int64]
"""(cases, findings): the state found, -1 where nothing is known."""

FAULT = "Fault"


class Pathfinder:
    def __init__(self) -> None:
        self.net = _read()
        self.order = [self.net.variable(n).name() for n in self.net.topologicalOrder()]
        self.findings = [name for name in self.order if name != FAULT]

    def states(self, name: str) -> int:
        return int(self.net.variable(name).domainSize())

    @property
    def prior(self) -> Floats:
        table: Floats = self.net.cpt(FAULT).toarray()
        return table

    @cached_property
    def given_fault(self) -> list[Floats]:
        """P(state | fault) of each finding: (states, faults). By pyAgrum, a fault at a time."""
        inference = pyagrum.LazyPropagation(self.net)
        columns: list[list[Floats]] = [[] for _ in self.findings]
        for fault in range(self.states(FAULT)):
            inference.setEvidence({FAULT: fault})
            inference.makeInference()
            for column, name in zip(columns, self.findings, strict=True):
                column.append(inference.posterior(name).toarray())
        return [np.array(column).T for column in columns]

    def sample(self, random: np.random.Generator, cases: int) -> tuple[Answers, Answers]:
        """Faults and all findings of cases drawn from the network, parents before children."""
        drawn: dict[str, npt.NDArray[np.int64]] = {}
        for name in self.order:
            table = self.net.cpt(name)
            parents = tuple(drawn[parent] for parent in reversed(table.names[1:]))
            chances = table.toarray()[parents]
            drawn[name] = (chances.cumsum(axis=-1) < random.random((cases, 1))).sum(axis=1)
        return drawn[FAULT], np.array([drawn[name] for name in self.findings]).T

    def exact(self, answers: Answers) -> Floats:
        """(cases, faults): P(fault | what is known), by pyAgrum. About 3 ms a case."""
        inference = pyagrum.LazyPropagation(self.net)
        inference.addTarget(FAULT)
        beliefs = []
        for case in answers:
            known = {f: int(a) for f, a in zip(self.findings, case, strict=True) if a >= 0}
            inference.setEvidence(known)
            inference.makeInference()
            beliefs.append(inference.posterior(FAULT).toarray())
        return np.array(beliefs)


def _read() -> pyagrum.BayesNet:
    """The package is found, not imported: that would take seconds."""
    found = find_spec("pgmpy")
    assert found is not None
    assert found.submodule_search_locations is not None
    packed = Path(found.submodule_search_locations[0]) / "utils/example_models/pathfinder.bif.gz"
    with TemporaryDirectory() as folder:
        plain = Path(folder) / "pathfinder.bif"
        plain.write_bytes(gzip.decompress(packed.read_bytes()))
        return pyagrum.loadBN(str(plain))
