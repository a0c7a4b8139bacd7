"""Speed of a diagnosis and of the command as a whole process. Run: pytest --benchmark-only."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor import Callout, open_knowledge
from advisor.diagnosis import diagnose
from advisor.knowledge import shipped

CASE = shipped("cases") / "worked" / "blind" / "garage-wall-foot-after-winter.yaml"


def test_a_diagnosis_with_all_its_explanations(benchmark: BenchmarkFixture) -> None:
    """Target: 8 ms."""
    knowledge = open_knowledge()
    callout = Callout.read(CASE, knowledge.attributes)
    assert benchmark(diagnose, knowledge, callout, callout.leaks[0]).causes


def test_reading_the_knowledge(benchmark: BenchmarkFixture) -> None:
    assert benchmark(open_knowledge.__wrapped__).causes


@pytest.mark.parametrize(
    "words",
    [("--help",), ("assess", str(CASE))],
    ids=["help, target 0.2 s", "assess, target 0.5 s"],
)
def test_the_command_from_cold(benchmark: BenchmarkFixture, words: tuple[str, ...]) -> None:
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPATH"] = str(Path(__file__).resolve().parent.parent.parent)

    def run() -> None:
        subprocess.run(
            [sys.executable, "-m", "advisor", *words],
            env=environment,
            stdout=subprocess.DEVNULL,
            check=True,
        )

    benchmark.pedantic(run, rounds=15, warmup_rounds=2)
