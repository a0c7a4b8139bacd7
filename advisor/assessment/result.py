"""The one result that every face shows: the published format, version 1."""

from typing import Any, Final, Literal

from pydantic import Field

from advisor.diagnosis import Diagnosis, Part
from advisor.terms import Problem

FORMAT: Final = 1


class ProblemLine(Part):
    """A fault or remark with its place in the file it stands in."""

    file: str
    line: int | None
    column: int | None
    key: str | None
    message: str
    expected: str | None
    nearest: str | None


class LeakResult(Diagnosis):
    """One wet place of one file. methods, plan: of later versions, present and empty."""

    file: str
    leak: str
    methods: tuple[()] = ()
    plan: None = None


class Assessment(Part):
    """All wet places of all files that could be read, and what is wrong with the others."""

    format: Literal[1] = FORMAT
    advisor: str
    knowledge: str
    leaks: tuple[LeakResult, ...] = ()
    problems: tuple[ProblemLine, ...] = Field(default=())
    remarks: tuple[ProblemLine, ...] = Field(default=())

    def to_json(self) -> str:
        """The result as one JSON document; confidences unrounded."""
        return self.model_dump_json(by_alias=True)


def problem_line(problem: Problem) -> ProblemLine:
    """A problem in the result's form."""
    return ProblemLine(
        file=problem.file,
        line=problem.line,
        column=problem.column,
        key=problem.key,
        message=problem.message,
        expected=problem.expected,
        nearest=problem.nearest,
    )


def result_schema() -> dict[str, Any]:
    """JSON Schema of the result."""
    return Assessment.model_json_schema(by_alias=True, mode="serialization")
