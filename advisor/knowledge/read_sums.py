"""The subjects that are worked out by hand: `sums/`."""

from collections.abc import Mapping

from advisor.knowledge.entries import Sum
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of
from advisor.knowledge.parts import parts_of, read_all
from advisor.terms import Attribute, Faults, Node, fault, mapping, read_value, text

_MUSTS = ("label", "asks", "gives", "example")
_NAMES = (*_MUSTS, "helps", "verdict", "loads")


def read_sums(
    sections: Sections, attributes: Mapping[str, Attribute], faults: Faults
) -> dict[str, Sum]:
    """By subject. Faults are gathered, faulty entries left out."""

    def example(node: Node) -> dict[str, str]:
        own, found = Faults(), {}
        for key, value in mapping(node, "example").entries:
            with own.catch():
                attribute = attributes.get(key_of(key, sections, "attributes"))
                if attribute is not None:
                    read_value(value, attribute)
                found[key.text] = text(value, key.text)
        own.stop()
        return found

    def subject(entry: Entry) -> Sum:
        part = parts_of(entry, sections, _NAMES, _MUSTS)
        gives = part.keys("gives", "attributes")
        read = Sum(
            key=entry.key,
            label=part.text("label"),
            asks=part.keys("asks", "attributes"),
            helps=part.keys("helps", "attributes"),
            gives=gives,
            verdict=part.keys("verdict", "attributes") or gives[:1],
            example=part.read("example", example, {}),
            loads=part.key("loads", "attributes"),
            why=part.why(),
        )
        part.stop()
        if not read.gives:
            raise fault(entry.place, "a sum gives at least one attribute", key="gives")
        return read

    return read_all(sections["sums"], faults, subject)
