"""The one result that every face shows: the published format, version 1."""

import json
from dataclasses import dataclass, fields, is_dataclass
from typing import Any, Final, Literal

from advisor.assessment.similar_result import SimilarPlace
from advisor.diagnosis import Diagnosis
from advisor.repair import MethodBelief, Plan
from advisor.terms import Problem

FORMAT: Final = 1


@dataclass(frozen=True, kw_only=True)
class Where:
    """The wet place that a diagnosis is of."""

    file: str
    leak: str


@dataclass(frozen=True, kw_only=True)
class LeakResult(Diagnosis, Where):
    """One wet place of one file: what it is, what would hold, and the plan.

    similar: past places like it; null where nobody asked for them.
    """

    methods: tuple[MethodBelief, ...]
    plan: Plan
    similar: tuple[SimilarPlace, ...] | None = None


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """All wet places of all files that could be read, and what is wrong with the others."""

    format: Literal[1] = FORMAT
    advisor: str
    knowledge: str
    leaks: tuple[LeakResult, ...] = ()
    problems: tuple[Problem, ...] = ()
    remarks: tuple[Problem, ...] = ()

    def to_json(self) -> str:
        """The result as one JSON document; confidences unrounded."""
        return to_json(self)


def to_json(part: object) -> str:
    """A result or report as one JSON document."""
    return json.dumps(_plain(part), ensure_ascii=False, allow_nan=False)


def _plain(part: object) -> Any:
    """Names as published: a trailing underscore only avoids a word of Python's."""
    if is_dataclass(part):
        return {f.name.rstrip("_"): _plain(getattr(part, f.name)) for f in fields(part)}
    if isinstance(part, tuple):
        return [_plain(item) for item in part]
    return part


def result_schema() -> dict[str, Any]:
    """JSON Schema of the result: every name is always there, and there are no others."""
    from pydantic import TypeAdapter  # noqa: PLC0415 - only who asks for the schema waits for it

    schema = TypeAdapter(Assessment).json_schema(mode="serialization")
    for part in (schema, *schema["$defs"].values()):
        named = {key.rstrip("_"): value for key, value in part["properties"].items()}
        part.update(properties=named, required=list(named), additionalProperties=False)
    return schema
