"""Methods of repair, and the limits that they must keep: `methods/`, `limits/`, `moments`."""

from collections.abc import Iterator, Mapping
from typing import get_args

from advisor.engine import ALWAYS
from advisor.knowledge.conditions import Vocabulary, read_condition
from advisor.knowledge.folder import Entry, Sections
from advisor.knowledge.names import key_of, known_word, unresolved
from advisor.knowledge.parts import Parts, fraction, items, parts_of, read_all
from advisor.knowledge.repair_entries import (
    ACTIVITIES,
    Holds,
    Horizon,
    Limit,
    Method,
    MethodStep,
    Moment,
    Role,
    StepKind,
    Worse,
)
from advisor.terms import Faults, Node, fault, mapping, nearest, number, problem_at, text, word

_LIMIT_NAMES = ("label", "must", "usually", "looks")
_MUSTS = (
    *("label", "role", "horizons", "moment", "holds", "limits", "steps"),
    *("fails", "accept", "proof", "wet-again", "shuts-off", "cost"),
)
_NAMES = (
    *_MUSTS,
    *("reversible", "standards", "conflicts", "worse", "makes", "works", "first", "then"),
    *("materials", "curing", "fallbacks"),
)
DEAREST = 5


def read_limits(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> dict[str, Limit]:
    """By key. Faults are gathered, faulty entries left out."""

    def limit(entry: Entry) -> Limit:
        part = parts_of(entry, sections, _LIMIT_NAMES, _LIMIT_NAMES)
        read = Limit(
            key=entry.key,
            label=part.text("label"),
            must=part.read("must", lambda node: read_condition(node, vocabulary), ALWAYS),
            usually=part.fraction("usually"),
            looks=part.keys("looks", "looks"),
            why=part.why(),
        )
        part.stop()
        if not read.looks:
            raise fault(entry.place, "no look decides this limit", key="looks")
        return read

    return read_all(sections["limits"], faults, limit)


def read_moments(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> dict[str, Moment]:
    """By key. Faults are gathered, faulty entries left out."""

    def moment(entry: Entry) -> Moment:
        part = parts_of(entry, sections, ("label", "come"), ("label",))
        read = Moment(
            key=entry.key,
            label=part.text("label"),
            come=part.read("come", lambda node: read_condition(node, vocabulary), None),
            why=part.why(),
        )
        part.stop()
        return read

    return read_all(sections["moments"], faults, moment)


def read_methods(sections: Sections, vocabulary: Vocabulary, faults: Faults) -> dict[str, Method]:
    """By key. Faults are gathered, faulty entries left out."""
    return read_all(sections["methods"], faults, lambda entry: _method(entry, sections, vocabulary))


def _method(entry: Entry, sections: Sections, vocabulary: Vocabulary) -> Method:
    part = parts_of(entry, sections, _NAMES, _MUSTS)
    read = Method(
        key=entry.key,
        label=part.text("label"),
        role=part.read("role", _role, "seal"),
        horizons=part.words("horizons", get_args(Horizon), "the horizons"),  # type: ignore[arg-type]
        moment=part.key("moment", "moments"),
        reversible=part.flag("reversible"),
        standards=part.texts("standards"),
        conflicts=part.texts("conflicts"),
        holds=part.read("holds", lambda node: _holds(node, sections), ()),
        worse=part.read("worse", lambda node: _worse(node, sections, vocabulary), ()),
        limits=part.keys("limits", "limits"),
        makes=part.keys("makes", "limits"),
        works=part.fraction("works"),
        first=part.keys("first", "methods"),
        then=part.keys("then", "methods"),
        steps=part.read("steps", lambda node: _steps(node, sections), ()),
        materials=part.read("materials", lambda node: _materials(node, sections), {}),
        curing=part.text("curing"),
        fails=part.text("fails"),
        accept=part.text("accept"),
        proof=part.keys("proof", "proofs"),
        wet_again=part.text("wet-again"),
        fallbacks=part.keys("fallbacks", "methods"),
        shuts_off=part.text("shuts-off"),
        cost=part.read("cost", _cost, 1),
        why=part.why(),
    )
    for message in _misfits(part, read):
        part.faults.add(problem_at(entry.place, message))
    part.stop()
    return read


def _misfits(part: Parts, method: Method) -> Iterator[str]:
    if method.makes and not part.has("works"):
        yield 'what it makes has no "works": how often it does'
    if method.role in ("slow", "hold") and "lasting" in method.horizons:
        yield f"a method of role {method.role} never closes the job"
    named = [key for line in method.holds for key in line.named]
    if twice := sorted({key for key in named if named.count(key) > 1}):
        yield f"holds names {twice[0]} twice"
    if method.key in {*method.first, *method.then, *method.fallbacks}:
        yield "it names itself"


def _role(node: Node) -> Role:
    role: Role = known_word(node, get_args(Role), "the roles")  # type: ignore[assignment]
    return role


def _cost(node: Node) -> int:
    cost = number(node, "cost")
    if cost not in range(1, DEAREST + 1):
        raise fault(node, f"{cost:g} is no cost band", expected=f"1 to {DEAREST}")
    return int(cost)


def _holds(node: Node, sections: Sections) -> tuple[Holds, ...]:
    faults, found = Faults(), list[Holds]()
    for item in items(node, "holds"):
        with faults.catch():
            part = Parts(mapping(item), item.place, sections, _HOLDS, _HOLDS)
            named = part.read("with", lambda n: _named(n, sections), ())
            rate, weight = part.fraction("rate"), part.number("weight", 1)
            part.stop()
            if rate >= 1 or weight <= 0:
                raise fault(item, "a rate is under 1, a weight above 0", key="holds")
            found.append(Holds(named=named, rate=rate, weight=weight))
    faults.stop()
    return tuple(found)


_HOLDS = ("with", "rate", "weight")


def _named(node: Node, sections: Sections) -> tuple[str, ...]:
    """Causes and groups, as written."""
    faults, found = Faults(), list[str]()
    for item in items(node, "with"):
        with faults.catch():
            key = word(item)
            known = {**sections["causes"], **sections["groups"]}
            if key not in known:
                told = f'"{key}" is no cause and no group'
                near = nearest(key, known)
                faults.add(unresolved(item, told, "causes", "groups", key=key, nearest=near))
            found.append(key)
    faults.stop()
    return tuple(found)


def _worse(node: Node, sections: Sections, vocabulary: Vocabulary) -> tuple[Worse, ...]:
    faults, found = Faults(), list[Worse]()
    names = ("when", "times", "because")
    for item in items(node, "worse"):
        with faults.catch():
            part = Parts(mapping(item), item.place, sections, names, names)
            found.append(
                Worse(
                    when=part.read("when", lambda n: read_condition(n, vocabulary), ALWAYS),
                    times=part.read("times", lambda n: fraction(n, "times"), 1.0),
                    because=part.text("because"),
                )
            )
            part.stop()
    faults.stop()
    return tuple(found)


def _steps(node: Node, sections: Sections) -> tuple[MethodStep, ...]:
    faults, found = Faults(), list[MethodStep]()
    names = ("kind", "do", "takes", "quantities")
    for key, body in mapping(node, "steps").entries:
        with faults.catch():
            part = Parts(mapping(body, key.text), key.place, sections, names, ("kind", "do"))
            kind = part.words("kind", get_args(StepKind), "the kinds of steps")
            found.append(
                MethodStep(
                    key=word(key),
                    kind=kind[0] if kind else "prepare",  # type: ignore[arg-type]
                    do=part.text("do"),
                    takes=part.words("takes", ACTIVITIES, "what a step takes"),
                    quantities=part.read("quantities", lambda n: _amounts(n, sections), ()),
                )
            )
            part.stop()
    faults.stop()
    return tuple(found)


def _amounts(node: Node, sections: Sections) -> tuple[str, ...]:
    """Keys of quantities, or of attributes that are numbers."""
    return tuple(_amount(item, sections) for item in items(node, "quantities"))


def _amount(node: Node, sections: Sections) -> str:
    key = word(node)
    attribute = sections["attributes"].get(key)
    kind = attribute.get("kind") if attribute is not None else None
    if kind is not None and text(kind) == "number":
        return key
    return key_of(node, sections, "quantities")


def _materials(node: Node, sections: Sections) -> Mapping[str, str]:
    faults, found = Faults(), dict[str, str]()
    for key, value in mapping(node, "materials").entries:
        with faults.catch():
            found[key_of(key, sections, "materials")] = _amount(value, sections)
    faults.stop()
    return found
