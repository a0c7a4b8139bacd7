"""Processes killed as by a loss of power: nothing acknowledged is lost, nothing is half there."""

import shutil
import tempfile
from pathlib import Path
from random import Random

import pytest

from advisor.library.case import KeptCase
from advisor.library.store.store import open_library
from tests.library import fault_work as work
from tests.library.fault_helpers import (
    CASES,
    killed,
    needs_processes,
    process,
    version,
    whole,
)
from tests.library.fault_work import GROUP
from tests.library.made_cases import made_case, token

pytestmark = needs_processes
MANY = [pytest.param(25, id="25"), pytest.param(250, id="250", marks=pytest.mark.long)]


@pytest.mark.parametrize("kills", MANY)
def test_killed_while_adding(tmp_path: Path, kills: int) -> None:
    random = Random(kills)
    path = tmp_path / "library.sqlite"
    open_library(path).close()
    acknowledged: dict[int, list[int]] = {}
    sizes: dict[int, int] = {}
    for seed in range(1, kills + 1):
        told = killed(work.keep_adding, path, seed, after=random.uniform(0, 0.25))
        whole(path)
        for first, size, form in told:
            sizes[first] = max(size, sizes.get(first, 0))
            for number in range(first, first + size):
                acknowledged.setdefault(number, []).append(form)
    assert len(acknowledged) > kills, "too little was written to tell anything"
    groups: dict[int, set[int]] = {}
    numbers = {token(number): number for number in range((kills + 1) * 1000 * GROUP)}
    with open_library(path) as library:
        for body in library.bodies():
            number = numbers[KeptCase.model_validate_json(body).case]
            groups.setdefault(number // GROUP, set()).add(number)
        for number, forms in acknowledged.items():
            expected = [made_case(number, seed=form) for form in forms]
            assert list(library.history(token(number)))[: len(forms)] == expected
    for group, found in groups.items():
        assert len(found) in (1, GROUP), "half an import"
        assert len(found) == sizes.get(group * GROUP, len(found))


@pytest.mark.parametrize("kills", MANY)
@pytest.mark.usefixtures("later")
def test_killed_while_brought_up_to_date(tmp_path: Path, filled: Path, kills: int) -> None:
    random = Random(kills)
    cut = 0
    for _ in range(kills):
        folder = Path(tempfile.mkdtemp(dir=tmp_path))
        told = killed(work.keep_migrating, filled, folder, after=random.uniform(0, 0.3))
        done = {name for name, is_done in told if is_done}
        begun = {name for name, is_done in told if not is_done}
        cut += len(begun - done)
        for name in begun:
            path = folder / name
            whole(path)
            assert version(path) == "0002" if name in done else version(path) in ("0001", "0002")
            with open_library(path) as library:
                assert [KeptCase.model_validate_json(body) for body in library.bodies()] == CASES
            assert version(path) == "0002"
            copies = list(folder.glob(f"{name}.copy-of-0001"))
            assert [version(copy) for copy in copies] == ["0001"]
        shutil.rmtree(folder)
    assert cut > kills // 3, "hardly any was killed on its way"


def test_eight_processes_at_once_lose_nothing(tmp_path: Path) -> None:
    """The library is not there when they begin."""
    path = tmp_path / "library.sqlite"
    with (
        process(work.add_many, path, 0, 250) as (_, a),
        process(work.add_many, path, 250, 250) as (_, b),
        process(work.add_many, path, 500, 250) as (_, c),
        process(work.add_many, path, 750, 250) as (_, d),
        process(work.add_many, path, 1000, 250) as (_, e),
        process(work.add_many, path, 1250, 250) as (_, f),
        process(work.add_many, path, 1500, 250) as (_, g),
        process(work.add_many, path, 1750, 250) as (_, h),
    ):
        assert [pipe.recv() for pipe in (a, b, c, d, e, f, g, h)] == ["done"] * 8
    whole(path)
    with open_library(path) as library:
        kept = [KeptCase.model_validate_json(body) for body in library.bodies()]
    assert sorted(case.case for case in kept) == sorted(token(number) for number in range(2000))
    assert [one.name for one in tmp_path.iterdir()] == [path.name]
