"""A kept case as one line of text, and back: the published JSON Lines.

A line: `{"checksum": ..., "case": {...}}`. checksum: SHA-256 of the case as canonical JSON, keys
sorted, no blanks, UTF-8. What is as the form has it by itself is left out of the case, but for
`format`, which stands in every line.
"""

import json
import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final, NoReturn, get_args

from pydantic import ValidationError
from pydantic_core import ErrorDetails

from advisor.library.body import body_of, canonical, checksum_of, encoded
from advisor.library.case import FORMAT, Kept, KeptCase
from advisor.terms import Faulty, Problem, nearest, one_of

CHECKSUM: Final = "checksum"
CASE: Final = "case"
PARTS: Final = (CHECKSUM, CASE)

Written = Mapping[str, Any]

_QUOTED = re.compile(r"'([^']*)'")
_LONGEST = 60
"""Letters of a faulty value that are shown."""


def to_line(case: KeptCase) -> str:
    """The case with its checksum, without the end of the line."""
    body = body_of(case)
    return f'{{"{CHECKSUM}":"{checksum_of(body)}","{CASE}":{body}}}'


def from_line(line: str) -> KeptCase:
    """The case of a line. Who reads a file adds its name and the number of the line.

    Raises Faulty: no JSON, not of this form, of a later format, not what the checksum says, or
    with names and values that this form does not have; of these all at once.
    """
    told = _case_of(_read(line))
    try:
        # As JSON, for there a list may stand for several; a text never for a number.
        return KeptCase.model_validate_json(encoded(canonical(told)), strict=True)
    except ValidationError as error:
        raise Faulty(_problem(one) for one in error.errors(include_url=False)) from None


def _read(line: str) -> Written:
    try:
        found = json.loads(line, object_pairs_hook=_once, parse_constant=_no_number)
    except json.JSONDecodeError as error:
        expected = "one case, whole, on one line"
        message = f"this is no JSON: {error.msg} at column {error.colno}"
        raise Faulty(Problem(message=message, expected=expected)) from None
    except (RecursionError, ValueError) as error:
        # A ValueError beside: a number with thousands of digits, which Python does not read.
        raise Faulty(Problem(message="this cannot be read", expected="a kept case")) from error
    if not isinstance(found, dict):
        expected = f'{{"{CHECKSUM}": ..., "{CASE}": {{...}}}}'
        raise Faulty(Problem(message="this is no case", expected=expected))
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        names = [name for name, _ in pairs]
        twice = next(name for name in names if names.count(name) > 1)
        raise Faulty(Problem(message="this name stands twice", key=twice, expected="each once"))
    return found


def _no_number(text: str) -> NoReturn:
    raise Faulty(Problem(message=f"{text} is no number that JSON knows", expected="a number"))


def _case_of(found: Written) -> Written:
    """What is under `case`, its format and checksum being right."""
    problems = [_unknown(name, PARTS) for name in found if name not in PARTS]
    problems += [_missing(name) for name in PARTS if name not in found]
    if problems:
        raise Faulty(problems)
    told, written = found[CASE], found[CHECKSUM]
    if not isinstance(told, dict):
        raise Faulty(Problem(message="this is no case", key=CASE, expected="names and values"))
    # A later form may be sealed in another way, so it is asked first.
    if (problem := _of_format(told)) is not None:
        raise Faulty(problem)
    if written != checksum_of(canonical(told)):
        message = "the case is not what its checksum says: it was changed, or cut"
        raise Faulty(Problem(message=message, key=CHECKSUM, expected="the line as it was written"))
    return told


def _of_format(told: Written) -> Problem | None:
    number = told.get("format")
    if number is None:
        return _missing("format")
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        message = f"{_short(number)} is no format"
        return Problem(message=message, key="format", expected=f"a number, {FORMAT} at most")
    if number > FORMAT:
        message = f"this case was written by a later advisor, in format {number}"
        expected = f"format {FORMAT} at most; use the later advisor"
        return Problem(message=message, key="format", expected=expected)
    return None


def _problem(error: ErrorDetails) -> Problem:
    """What pydantic found, in words of this project."""
    where = error["loc"]
    if error["type"] == "missing":
        return _missing(_path(where))
    if error["type"] == "extra_forbidden":
        return _unknown(_path(where), _fields_at(where[:-1]))
    if error["type"] == "json_invalid":
        return Problem(message="this holds a broken letter", expected="whole letters in UTF-8")
    message, expected = f"{_short(error['input'])} cannot be", error["msg"].removeprefix("Input ")
    near = None
    if error["type"] == "literal_error":
        known = _QUOTED.findall(error["ctx"]["expected"])
        expected, near = one_of(known) if known else expected, nearest(str(error["input"]), known)
    return Problem(message=message, key=_path(where), expected=expected, nearest=near)


def _missing(name: str) -> Problem:
    return Problem(message=f'"{name}" is missing', key=name)


def _unknown(path: str, known: tuple[str, ...]) -> Problem:
    near = nearest(path.rpartition(".")[2], known)
    return Problem(message="this is not known here", key=path, nearest=near)


def _path(where: tuple[int | str, ...]) -> str:
    """As in `places.1.done.2.day`, counting from 1. The name of a key itself is no step."""
    steps = [str(step + 1) if isinstance(step, int) else step for step in where if step != "[key]"]
    return ".".join(steps)


def _fields_at(where: tuple[int | str, ...]) -> tuple[str, ...]:
    """The names that may stand at a place of the form."""
    form: type[Kept] = KeptCase
    for step in where:
        form = _forms().get((form, step), form)
    return tuple(form.model_fields)


@lru_cache(maxsize=1)
def _forms() -> dict[tuple[type[Kept], int | str], type[Kept]]:
    """Which form stands under a name of another one."""
    return {
        (form, name): inner
        for form in Kept.__subclasses__()
        for name, field in form.model_fields.items()
        for inner in _inside(field.annotation)
    }


def _inside(annotation: Any) -> list[type[Kept]]:
    if isinstance(annotation, type) and issubclass(annotation, Kept):
        return [annotation]
    return [form for part in get_args(annotation) for form in _inside(part)]


def _short(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= _LONGEST else f"{text[:_LONGEST]}..."
