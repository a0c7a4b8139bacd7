"""What the firm has: how its files are read, packs and cost, and what can be done today."""

import json
from pathlib import Path
from typing import Any

import pytest

from advisor.repair.firm_reader import read_firm
from advisor.terms import Faulty
from tests.cli.command import Ended, run
from tests.repair.crack import CRACK, RESIN, changed, knowledge

PACKS = """elastic-polyurethane-resin: {size: 1 L}
injection-packer: {size: 10 count}
"""
PRICES = """currency: EUR
packs: {elastic-polyurethane-resin: 48, injection-packer: 12.5}
"""
VAN = """stock:
  elastic-polyurethane-resin: {packs: 3, expires: 2031-04-16}
  injection-packer: {packs: 2}
drill-length: 400 mm
pump-pressure: 200 bar
"""
CREW = "certificates: {diisocyanate training: 2031-04-16}\n"
ALL = {"packs": PACKS, "prices": PRICES, "van": VAN, "crew": CREW}


def firm(folder: Path, **files: str) -> Path:
    """A folder of the firm's files, each of these words."""
    there = folder / "firm"
    there.mkdir()
    for name, text in files.items():
        (there / f"{name}.yaml").write_text(text, encoding="utf-8")
    return there


def plan(folder: Path, there: Path, *more: str, text: str = CRACK) -> Ended:
    callout = folder / "callout.yaml"
    callout.write_text(text, encoding="utf-8")
    return run("plan", callout, "--firm", there, *more)


def sheet(folder: Path, there: Path, text: str = CRACK) -> dict[str, Any]:
    ended = plan(folder, there, "--json", text=text)
    assert (ended.code, ended.err) == (0, "")
    (found,) = json.loads(ended.out)["sheets"]
    assert isinstance(found, dict)
    return found


def why_not(found: dict[str, Any], method: str = RESIN) -> str | None:
    """Why it is not the best today; None where no reason is told."""
    told = {one["method"]: one["text"] for one in found["today"]["not_today"]}
    return told.get(method)


def test_packs_and_cost_as_by_hand(tmp_path: Path) -> None:
    """Resin at most (0.18 L x 2 + 15 holes of 14 mm and 212 mm) x 1.2 = 1.02 L: two of 1 L.

    Packers at most 15 x 1.1, so 17: two packs of ten. 2 x 48 + 2 x 12.50 = 121.
    """
    there = firm(tmp_path, packs=PACKS, prices=PRICES)
    orders = sheet(tmp_path, there)["orders"]
    assert orders == [
        {"material": "elastic-polyurethane-resin", "packs": 2, "cost": 96.0, "currency": "EUR"},
        {"material": "injection-packer", "packs": 2, "cost": 25.0, "currency": "EUR"},
    ]
    out = plan(tmp_path, there).out
    assert "2 packs at the most, 96.00 EUR" in out
    assert "In all at the most, of what has a price: 121.00 EUR." in out


def test_without_a_price_packs_are_told_and_no_cost(tmp_path: Path) -> None:
    for order in sheet(tmp_path, firm(tmp_path, packs=PACKS))["orders"]:
        assert (order["packs"], order["cost"], order["currency"]) == (2, None, None)


def test_with_all_there_the_advised_method_is_the_best_today(tmp_path: Path) -> None:
    found = sheet(tmp_path, firm(tmp_path, **ALL))
    assert (found["today"]["method"], found["today"]["not_today"]) == (RESIN, [])
    assert found["leak"]["plan"]["method"] == RESIN


def test_an_empty_folder_bars_nothing(tmp_path: Path) -> None:
    assert sheet(tmp_path, firm(tmp_path))["today"]["method"] == RESIN


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"van": VAN.replace("04-16", "04-15")}, "Past its last day, 2031-04-15: elastic"),
        ({"crew": CREW.replace("04-16", "04-15")}, "diisocyanate training ended on 2031-04-15"),
        ({"crew": "certificates: {}\n"}, "Nobody of the crew holds the certificate diisocyanate"),
        ({"van": "stock: {}\n"}, "Not in the van: elastic polyurethane resin."),
        ({"van": VAN.replace("packs: 2", "packs: 0")}, "Not in the van: drilled packers."),
        ({"packs": PACKS.replace("1 L", "0.1 L")}, "Too few packs in the van (3)"),
        (
            {"van": VAN.replace("400 mm", "200 mm")},
            "length of each hole to the crack is more than the length of the drill (200 mm)",
        ),
    ],
    ids=["stock", "certificate", "no-certificate", "empty", "none-left", "too-few", "drill"],
)
def test_what_is_missing_is_why_it_is_not_the_best_today(
    tmp_path: Path, changes: dict[str, str], said: str
) -> None:
    there = firm(tmp_path, **{**ALL, **changes})
    found = sheet(tmp_path, there)
    assert found["today"]["method"] != RESIN
    assert said in (why_not(found) or "")
    assert found["leak"]["plan"]["method"] == RESIN, "what is advised hangs on no van"
    _, today = plan(tmp_path, there).out.split("BEST WITH WHAT IS THERE TODAY")
    assert said in " ".join(today.split())


def test_the_day_is_that_of_the_last_visit_not_of_the_clock(tmp_path: Path) -> None:
    """Stock and certificate of 2031 are past for a visit in 2040, those of 2011 not in 2010."""
    there = firm(tmp_path, **ALL)
    later = sheet(tmp_path, there, CRACK.replace("2031-04-16", "2040-04-16"))
    assert "ended on 2031-04-16" in (why_not(later) or "")
    old = {key: text.replace("2031", "2011") for key, text in ALL.items()}
    for name, text in old.items():
        (there / f"{name}.yaml").write_text(text, encoding="utf-8")
    assert why_not(sheet(tmp_path, there, CRACK.replace("2031-04-16", "2010-04-16"))) is None


def test_a_drill_as_long_as_the_hole_reaches(tmp_path: Path) -> None:
    there = firm(tmp_path, **{**ALL, "van": VAN.replace("400 mm", "213 mm")})
    assert sheet(tmp_path, there)["today"]["method"] == RESIN


def test_no_room_for_the_hole_rules_the_method_out(tmp_path: Path) -> None:
    """212 mm of hole, 150 mm of clear space; at 250 mm it is free again."""
    there = firm(tmp_path, **ALL)
    tight = sheet(tmp_path, there, changed(clear_space="150 mm"))["leak"]
    out = {m["method"]: m["ruled_out"] for m in tight["methods"]}[RESIN]
    assert "length of each hole to the crack" in out
    assert "clear space in front of the place: 150 mm" in out
    assert tight["plan"]["method"] != RESIN
    roomy = sheet(tmp_path, there, changed(clear_space="250 mm"))["leak"]
    assert {m["method"]: m["ruled_out"] for m in roomy["methods"]}[RESIN] is None


@pytest.mark.parametrize(
    ("name", "text", "said"),
    [
        ("packs", "injection-packer: {}\n", "packs.yaml:1:1: injection-packer: the size of"),
        ("packs", "\ninjection-paker: {size: 10 count}\n", 'packs.yaml:2:1: injection-paker: "inj'),
        ("packs", "injection-paker: {size: 10 count}\n", 'did you mean "injection-packer"?'),
        ("packs", "elastic-polyurethane-resin: {size: 1}\n", "packs.yaml:1:36: "),
        ("packs", "injection-packer: {size: 0 count}\n", "above 0"),
        ("packs", "injection-packer: {size: 9 count, prize: 3}\n", "prize: this key is not known"),
        ("prices", "packs: {injection-packer: 12}\n", "prices.yaml:1:1: currency: the currency is"),
        ("prices", "currency: EUR\npacks: {injection-packer: -1}\n", "prices.yaml:2:27: "),
        ("prices", "currency: EUR\npacks: {injection-paker: 1}\n", 'did you mean "injection-pack'),
        ("van", "stok: {}\n", 'did you mean "stock"?'),
        ("van", "stock: {injection-packer: {packs: -3}}\n", "packs are 0 or more"),
        ("van", "stock: {injection-packer: {packs: 3, expires: 1.2.2031}}\n", "YYYY-MM-DD"),
        ("van", "drill-length: 40\n", "van.yaml:1:15: "),
        ("crew", "certificates: {x: never}\n", "crew.yaml:1:19: "),
        ("crew", "", "crew.yaml: the file is empty"),
        (
            "vans",
            "x: 1\n",
            "vans.yaml: this file is none of the firm's; expected one of packs.yaml",
        ),
        ("vans", "x: 1\n", 'did you mean "van.yaml"?'),
    ],
)
def test_a_fault_is_told_with_its_line_and_the_plan_still_printed(
    tmp_path: Path, name: str, text: str, said: str
) -> None:
    ended = plan(tmp_path, firm(tmp_path, **{name: text}))
    assert ended.code == 2
    assert said in ended.err
    assert "Traceback" not in ended.err
    assert "THE LASTING REPAIR" in ended.out


@pytest.mark.parametrize("there", ["nowhere", "callout.yaml"])
def test_a_folder_that_is_none_is_told_and_the_plan_still_printed(
    tmp_path: Path, there: str
) -> None:
    ended = plan(tmp_path, tmp_path / there)
    assert ended.code == 2
    assert f"{tmp_path / there}: " in ended.err
    assert "expected a folder with packs.yaml" in ended.err
    assert "THE LASTING REPAIR" in ended.out
    with pytest.raises(Faulty):
        read_firm(tmp_path / there, knowledge())


def test_all_faults_at_once_and_the_rest_is_used(tmp_path: Path) -> None:
    there = firm(tmp_path, packs=PACKS + "tar: {size: 1 L}\n", prices="packs: {}\n", vans="x: 1\n")
    ended = plan(tmp_path, there, "--json")
    assert ended.code == 2
    assert len(ended.err.splitlines()) == 3
    found = json.loads(ended.out)
    assert len(found["problems"]) == 3
    assert [order["packs"] for order in found["sheets"][0]["orders"]] == [2, 2]
