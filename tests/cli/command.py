"""Runs the command: in this process for the many, as a process of its own for the few."""

import os
import subprocess
import sys
from dataclasses import dataclass
from io import BytesIO, TextIOWrapper
from pathlib import Path
from unittest.mock import patch

from advisor.cli import main
from advisor.knowledge import shipped

CHECKOUT = shipped("knowledge").parent
BLIND = CHECKOUT / "cases" / "worked" / "blind"
CASE = str(BLIND / "garage-wall-foot-after-winter.yaml")


@dataclass(frozen=True, slots=True)
class Ended:
    code: int
    out: str
    err: str


class Terminal(TextIOWrapper):
    """What is written to it, or typed there, by somebody who sits before it."""

    def isatty(self) -> bool:
        return True


def run(
    *arguments: str | Path, stdin: bytes = b"", terminal: bool = False, **environment: str
) -> Ended:
    """The whole command in this process, output as in a pipe; or all as on a terminal."""
    stream = Terminal if terminal else TextIOWrapper
    out, err = (stream(BytesIO(), "utf-8", newline="") for _ in range(2))
    with (
        patch.object(sys, "stdin", stream(BytesIO(stdin))),
        patch.object(sys, "stdout", out),
        patch.object(sys, "stderr", err),
        patch.dict(os.environ, environment),
    ):
        code = main([str(a) for a in arguments])
        out.flush()
    texts = [stream.buffer.getvalue().decode() for stream in (out, err)]
    return Ended(code, *texts)


def process(*arguments: str | Path, **settings: object) -> "subprocess.CompletedProcess[bytes]":
    """`python -m advisor` with these words."""
    words = [sys.executable, "-m", "advisor", *map(str, arguments)]
    options = {"capture_output": True, "cwd": CHECKOUT, "timeout": 60, **settings}
    return subprocess.run(words, check=False, **options)  # type: ignore[call-overload,no-any-return]
