"""What the callout tests share: the shipped attributes, and callouts cut from a template."""

from collections.abc import Callable, Mapping

import pytest

from advisor.callout import Callout
from advisor.knowledge import open_knowledge
from advisor.terms import Attribute

Attributes = Mapping[str, Attribute]
Parse = Callable[[str], Callout]
Faults = Callable[[str], list[str]]


@pytest.fixture(scope="session")
def attributes() -> Attributes:
    return open_knowledge().attributes


@pytest.fixture(scope="session")
def parse(attributes: Attributes) -> Parse:
    return lambda text: Callout.parse(text, "f.yaml", attributes)


@pytest.fixture(scope="session")
def one_finding(parse: Parse) -> Parse:
    """The callout of one wet place with the findings given, seen on two of three visits."""

    def build(findings: str) -> Callout:
        lines = "\n".join(f"      {line}" for line in findings.splitlines())
        return parse(
            "callout: X\n"
            "structure: {kind: basement, pour-date: 2030-01-01}\n"
            "visits: [{date: 2031-04-16}, {date: 2031-05-16}, {date: 2031-06-16}]\n"
            f"leaks:\n  - leak: L1\n    findings:\n{lines}\n"
        )

    return build
