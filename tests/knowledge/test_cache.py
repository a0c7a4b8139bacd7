"""The kept knowledge is never stale, and a cache that cannot be used is as none."""

import os
import shutil
from pathlib import Path

import pytest

from advisor.knowledge import Knowledge, open_folder, shipped
from advisor.knowledge import cache as cache_module
from advisor.knowledge.cache import content_of
from advisor.knowledge.stored import stored
from advisor.terms import Faulty


@pytest.fixture
def cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    return tmp_path / "cache" / "leak-advisor"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return shutil.copytree(shipped("knowledge"), tmp_path / "own")


def same(one: Knowledge, other: Knowledge) -> bool:
    return one is not other and (one.fingerprint, one.causes, one.looks) == (
        other.fingerprint,
        other.causes,
        other.looks,
    )


def test_what_is_kept_is_what_was_made(cache: Path, folder: Path) -> None:
    made = open_folder(folder)
    (file,) = cache.glob("*.stored")
    written = file.stat().st_mtime_ns
    kept = open_folder(folder)
    assert same(made, kept)
    assert file.stat().st_mtime_ns == written
    assert kept.engine.hypotheses == made.engine.hypotheses
    blank = made.engine.blank()
    assert (kept.engine.run(blank).beliefs == made.engine.run(blank).beliefs).all()
    assert kept.remarks == made.remarks
    assert kept.sections.keys() == made.sections.keys()


def test_any_change_of_a_file_is_seen(cache: Path, folder: Path) -> None:
    before = open_folder(folder)
    file = folder / "groups.yaml"
    file.write_text(file.read_text().replace("label: crack", "label: a crack in the wall"))
    after = open_folder(folder)
    assert after.groups["crack"].label == "a crack in the wall"
    assert before.groups["crack"].label == "crack"
    assert len(list(cache.glob("*.stored"))) == 2


@pytest.mark.usefixtures("cache")
def test_a_file_that_does_not_belong_is_refused_all_the_same(folder: Path) -> None:
    open_folder(folder)
    (folder / "causes" / "more.yml").write_text("a: b\n")
    with pytest.raises(Faulty, match=r"more\.yml"):
        open_folder(folder)


def test_faulty_knowledge_is_not_kept(cache: Path, folder: Path) -> None:
    (folder / "groups.yaml").write_text("crack: [\n")
    for _ in range(2):
        with pytest.raises(Faulty):
            open_folder(folder)
    assert not list(cache.glob("*"))


@pytest.mark.parametrize("spoilt", [b"", b"nothing of ours", stored(("something", "else"))])
def test_a_spoilt_cache_is_made_anew(cache: Path, folder: Path, spoilt: bytes) -> None:
    made = open_folder(folder)
    (file,) = cache.glob("*.stored")
    file.write_bytes(spoilt)
    assert same(open_folder(folder), made)
    assert len(file.read_bytes()) > 1000


@pytest.mark.skipif(not hasattr(os, "getuid"), reason="file modes as on Unix")
def test_what_others_could_have_written_is_not_read(
    cache: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    open_folder(folder)
    (file,) = cache.glob("*.stored")
    file.chmod(0o666)
    monkeypatch.setattr(cache_module, "restored", pytest.fail)
    assert open_folder(folder).causes


def test_no_place_to_keep_it(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", "/dev/null")
    assert open_folder(folder).causes


def test_the_oldest_goes(cache: Path, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache_module, "KEPT", 1)
    open_folder(folder)
    (folder / "waters.yaml").write_text((folder / "waters.yaml").read_text() + "\n")
    open_folder(folder)
    assert [f.stem for f in cache.glob("*")] == [content_of((folder,))]
