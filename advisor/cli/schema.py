"""`advisor schema`: the forms of the files that go in and out."""

import json

from advisor.cli.exits import DONE
from advisor.cli.opening import Refused, opened, tell


def print_schema(*, result: bool, folder: str | None) -> int:
    """Print the JSON Schema of a callout file, or of the result. Returns the exit code."""
    if result:
        from advisor.assessment import result_schema  # noqa: PLC0415 - loads the whole house

        print(json.dumps(result_schema(), indent=2, ensure_ascii=False))
        return DONE
    from advisor.callout import callout_schema  # noqa: PLC0415

    try:
        knowledge = opened(folder)
    except Refused as refused:
        tell(refused.problems)
        return refused.code
    print(json.dumps(callout_schema(knowledge.attributes), indent=2, ensure_ascii=False))
    return DONE
