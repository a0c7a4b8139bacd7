"""Speed of the water formulas, and what their import costs. Run: pytest --benchmark-only."""

import os
import subprocess
import sys
from pathlib import Path
from statistics import median

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from advisor.water.crack import crack_flow
from advisor.water.crack_width import hydraulic_width
from advisor.water.numbers import Floats

ROWS = 1_000_000
ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture(scope="module")
def rows() -> list[Floats]:
    """Width in mm, gradient, temperature in °C, reduction; made up, all within the law."""
    draw = np.random.default_rng(4)
    ends = [(0.02, 0.3), (1.0, 30.0), (4.0, 25.0), (0.1, 0.52)]
    return [draw.uniform(low, high, ROWS) for low, high in ends]


def say_rate(benchmark: BenchmarkFixture, name: str) -> None:
    if benchmark.stats is not None:
        rate = ROWS / benchmark.stats.stats.median / 1e6
        benchmark.extra_info["million rows a second"] = round(rate, 1)
        print(f"\n{name}: {rate:.1f} million rows a second")


def test_flow_through_a_million_cracks(benchmark: BenchmarkFixture, rows: list[Floats]) -> None:
    """Target: 10 million rows a second and core."""
    flow = benchmark.pedantic(crack_flow, rows, rounds=15, warmup_rounds=2)
    assert np.isfinite(flow).mean() > 0.9
    say_rate(benchmark, "crack flow")


def test_width_of_a_million_flows(benchmark: BenchmarkFixture, rows: list[Floats]) -> None:
    """Target: 10 million rows a second and core."""
    width, *others = rows
    flow = crack_flow(width, *others)
    found = benchmark.pedantic(hydraulic_width, (flow, *others), rounds=15, warmup_rounds=2)
    known = np.isfinite(flow)
    np.testing.assert_allclose(found[known], width[known], rtol=1e-9)
    say_rate(benchmark, "hydraulic width")


def test_importing_water_beyond_numpy(benchmark: BenchmarkFixture) -> None:
    """Target: 30 ms. A fresh process each time, which looks at the clock once numpy is there."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    code = (
        "import numpy, time; start = time.perf_counter(); import advisor.water;"
        "print(time.perf_counter() - start)"
    )
    times = []

    def run() -> None:
        command, piped = [sys.executable, "-c", code], subprocess.PIPE
        out = subprocess.run(command, cwd=ROOT, env=environment, stdout=piped, check=True)
        times.append(float(out.stdout) * 1000)

    benchmark.pedantic(run, rounds=15, warmup_rounds=2)
    # The quickest is the one that nothing else on the machine disturbed.
    benchmark.extra_info["milliseconds beyond numpy"] = {
        "quickest": round(min(times), 1),
        "median": round(median(times), 1),
    }
    print(f"\nimport of water beyond numpy: {min(times):.1f} ms, median {median(times):.1f} ms")
    assert min(times) < 30
