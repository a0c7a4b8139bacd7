"""`weights.yaml`, `sources.yaml`, and the `because` and `source` of every entry."""

from collections.abc import Iterable, Mapping

from advisor.knowledge.entries import Source, Weights, Why, Word
from advisor.knowledge.folder import Entry, Sections
from advisor.terms import (
    Faults,
    Listing,
    Node,
    Problem,
    fault,
    listing,
    mapping,
    nearest,
    number,
    one_of,
    only_keys,
    text,
    word,
)

STATUSES = ("verified", "from-memory", "common-practice", "own-judgement")


def texts(node: Node | None, key: str | None = None) -> tuple[str, ...]:
    """One text or a list of texts; nothing is no text."""
    if node is None:
        return ()
    items = listing(node, key) if isinstance(node, Listing) else (node,)
    return tuple(text(item, key) for item in items)


def words(node: Node | None, known: Iterable[str], what: str) -> tuple[str, ...]:
    """One key or a list of keys, each of them known. Raises Faulty with all unknown ones."""
    if node is None:
        return ()
    faults = Faults()
    found = []
    for item in listing(node, what) if isinstance(node, Listing) else (node,):
        with faults.catch():
            found.append(known_word(item, known, what))
    faults.stop()
    return tuple(found)


def known_word(node: Node, known: Iterable[str], what: str) -> str:
    """A key that must be one of the known ones."""
    key, known = word(node), list(known)
    if key not in known:
        near = nearest(key, known)
        expected = one_of(known) if len(known) <= 12 else f"a key of {what}"
        raise fault(node, f'"{key}" is not in {what}', key=key, expected=expected, nearest=near)
    return key


def fraction(node: Node, name: str, *, least: float = 0.0) -> float:
    """A number above `least`, at most 1."""
    value = number(node, name)
    if not least < value <= 1:
        raise fault(node, f"{value:g} cannot be", key=name, expected=f"above {least:g}, at most 1")
    return value


def read_why(entry: Entry, sections: Sections) -> Why:
    """Every entry says why, and from where."""
    faults = Faults()
    because = ""
    source: tuple[str, ...] = ()
    with faults.catch():
        because = text(entry.need("because"), "because")
    with faults.catch():
        source = words(entry.need("source"), sections["sources"], "sources")
    faults.stop()
    return Why(because=because, source=source)


def read_source(entry: Entry) -> Source:
    only_keys(entry.node, ("title", "status"), ("title", "status"))
    return Source(
        key=entry.key,
        title=text(entry.need("title"), "title"),
        status=known_word(entry.need("status"), STATUSES, "the kinds of status"),
    )


def read_weights(entries: Mapping[str, Entry]) -> Weights:
    """The one map of words to numbers, slips, stories, and when a cause is settled."""
    faults = Faults()
    wanted = ("words", "left", "right", "stories", "settled", "marks")
    missing = [name for name in wanted if name not in entries]
    for name in entries:
        if name not in wanted:
            with faults.catch():
                raise fault(
                    entries[name].place,
                    "no such part of weights",
                    key=name,
                    expected=one_of(wanted),
                    nearest=nearest(name, wanted),
                )
    for name in missing:
        faults.add(Problem(message=f'"{name}" is missing', file="weights.yaml", key=name))
    faults.stop()
    values: dict[str, dict[str, float]] = {}
    for part, names in (
        ("left", ("least",)),
        ("right", ("sure", "unsure")),
        ("settled", ("cause", "times-the-next", "group")),
        ("marks", ("hangs-on", "unexplained")),
    ):
        with faults.catch():
            only_keys(entries[part].node, (*names, "because", "source"), names)
            values[part] = {n: number(entries[part].need(n), n) for n in names}
    words_of = {}
    for key, node in entries["words"].node.entries:
        if key.text in ("because", "source"):
            continue
        with faults.catch():
            said = mapping(node, key.text)
            only_keys(said, ("times", "at-most"), ("times", "at-most"))
            times, most = said.get("times"), said.get("at-most")
            assert times is not None
            assert most is not None
            words_of[key.text] = Word(times=number(times, "times"), at_most=fraction(most, "most"))
    stories = {}
    for key, node in entries["stories"].node.entries:
        with faults.catch():
            stories[key.text] = text(node, key.text)
    faults.stop()
    return Weights(
        words=words_of,
        least_left=values["left"]["least"],
        right_sure=values["right"]["sure"],
        right_unsure=values["right"]["unsure"],
        stories=stories,
        settled_cause=values["settled"]["cause"],
        settled_times_next=values["settled"]["times-the-next"],
        settled_group=values["settled"]["group"],
        hangs_on=values["marks"]["hangs-on"],
        unexplained=values["marks"]["unexplained"],
    )
