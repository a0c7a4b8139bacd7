import re
from itertools import product

import pytest

from advisor.cli.welcome import WELCOME
from tests.cli.command import run

LIBRARY = (
    *("add", "find", "show", "forget", "hold", "export", "import", "backfill", "similar", "facts"),
    "demo",
)
COMMANDS = (
    ("assess",),
    ("plan",),
    ("log",),
    ("due",),
    *(("library", name) for name in LIBRARY),
    ("schema",),
    ("knowledge", "check"),
    ("knowledge", "list"),
    ("knowledge", "show"),
    ("cases", "check"),
    ("work-out",),
)


@pytest.mark.parametrize("arguments", [(), ("--help",), ("-h",)])
def test_alone_it_prints_a_short_help_with_examples(arguments: tuple[str, ...]) -> None:
    ended = run(*arguments)
    assert (ended.code, ended.out, ended.err) == (0, WELCOME, "")
    assert "Examples\n  advisor assess callout.yaml" in WELCOME
    assert max(map(len, WELCOME.splitlines())) <= 60


def test_the_short_help_names_every_command() -> None:
    for command in COMMANDS:
        assert command[0] in WELCOME
        assert command[-1] in WELCOME


@pytest.mark.parametrize(("command", "flag"), list(product(COMMANDS, ("--help", "-h"))))
def test_every_command_has_help_with_an_example(command: tuple[str, ...], flag: str) -> None:
    ended = run(*command, flag, COLUMNS="60")
    assert ended.code == 0
    assert f"Example: advisor {' '.join(command)}" in " ".join(ended.out.split())
    assert max(map(len, ended.out.splitlines())) <= 60


@pytest.mark.parametrize("group", ["knowledge", "cases", "library"])
def test_a_group_alone_prints_its_help(group: str) -> None:
    ended = run(group)
    assert ended.code == 0
    assert "Commands:" in ended.out


@pytest.mark.parametrize(
    ("arguments", "meant"),
    [
        (("asess", "x.yaml"), "assess"),
        (("knowlege", "check"), "knowledge"),
        (("knowledge", "shwo"), "show"),
        (("assess", "x.yaml", "--jsn"), "--json"),
        (("assess", "x.yaml", "--reason"), "--reasons"),
        (("knowledge", "check", "--separations"), "--separation"),
    ],
)
def test_a_mistyped_word_is_answered_with_the_likely_one(
    arguments: tuple[str, ...], meant: str
) -> None:
    ended = run(*arguments)
    assert ended.code == 2
    assert ended.out == ""
    assert meant in ended.err.split("Error:")[1]


def test_version() -> None:
    ended = run("--version")
    assert ended.code == 0
    assert re.fullmatch(r"advisor \S+\n", ended.out)
