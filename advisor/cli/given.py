"""What is given on the command line as KEY=VALUE."""

from collections.abc import Sequence

from advisor.cli.opening import printable
from advisor.terms import Faults, Problem


def read_pairs(
    words: Sequence[str],
    faults: Faults,
    *,
    form: str = "KEY=VALUE",
    like: str,
    option: str | None = None,
) -> dict[str, str]:
    """The values by key; blanks in a key stand for hyphens. What is none goes to `faults`.

    form, like: what is expected, and an example of it. option: that they stand behind.
    """
    given: dict[str, str] = {}
    for word in words:
        key, sign, value = word.partition("=")
        key, value = printable("-".join(key.split())), printable(value.strip())
        if not sign or not key or not value:
            told = f'"{printable(word)}" is no {form}'
            faults.add(Problem(message=told, key=option, expected=f"such as {like}"))
        elif key in given:
            faults.add(Problem(message="this is given twice", key=key, expected="each once"))
        else:
            given[key] = value
    return given


def read_settings(words: Sequence[str], *, like: str) -> dict[str, str]:
    """What stands behind `--set`. Raises Faulty with everything that is wrong with it."""
    faults = Faults()
    given = read_pairs(words, faults, like=like, option="--set")
    faults.stop()
    return given
