"""From the words on the command line to an exit code. No traceback leaves this file.

What a command prints is gathered and written in one go: a result is there as a whole or
not at all.
"""

import gc
import os
import sys
import warnings
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout, suppress
from io import StringIO
from typing import TextIO

from advisor.cli.exits import DONE, FAILED, INTERRUPTED, worst
from advisor.cli.welcome import WELCOME

COMPLETION = "_ADVISOR_COMPLETE"
"""Set by a shell that asks how to complete a word."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the command. arguments: None for those of the process. Returns the exit code."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if arguments is None:
        gc.disable()  # it ends before collecting pays: 7 % of the time of `assess`
        # A row needs no threads, and a pool of them takes its time to start.
        os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
        if not sys.warnoptions:
            warnings.simplefilter("ignore")  # a warning is for who develops, not for who asks
    results, messages = StringIO(), StringIO()
    stdout, stderr = sys.stdout, sys.stderr
    try:
        with redirect_stdout(results), redirect_stderr(messages):
            code = _run(given, stdout)
        failed = _write(stdout, results.getvalue())
    except KeyboardInterrupt:
        return INTERRUPTED
    if failed:
        print(f"advisor: the result could not be written ({failed}).", file=messages)
        code = worst([code, FAILED]) if code != INTERRUPTED else code
    with suppress(KeyboardInterrupt):
        _write(stderr, messages.getvalue())
    return code


def _run(given: list[str], stdout: TextIO | None) -> int:
    if COMPLETION not in os.environ and given in ([], ["--help"], ["-h"]):
        print(WELCOME, end="")
        return DONE
    try:
        return _dispatch(given, stdout)
    except KeyboardInterrupt:
        raise
    except Exception as error:
        print(_last_words(error), file=sys.stderr)
        return FAILED


def _dispatch(given: list[str], stdout: TextIO | None) -> int:
    # The short help above must not wait for these.
    from advisor.cli.app import app_for  # noqa: PLC0415
    from advisor.cli.screen import screen_of  # noqa: PLC0415

    without = [word for word in given if word != "--no-color"]
    environment = dict(os.environ)
    if len(without) < len(given):
        environment["NO_COLOR"] = "1"
    try:
        app_for(without)(without, prog_name="advisor", obj=screen_of(stdout, environment))
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else DONE
    return DONE


def _write(stream: TextIO | None, text: str) -> str | None:
    """Write all of it. Returns why it failed; a reader who has left is no failure."""
    if not text:
        return None
    if stream is None:
        return "the output is closed"
    try:
        if hasattr(stream, "reconfigure"):
            # Programs that read a pipe expect UTF-8; a terminal knows its own letters best.
            encoding = stream.encoding if stream.isatty() else "utf-8"
            stream.reconfigure(encoding=encoding, errors="backslashreplace")
        stream.write(text)
        stream.flush()
    except BrokenPipeError:
        _drop(stream)
    except (OSError, ValueError) as error:
        _drop(stream)
        return getattr(error, "strerror", None) or str(error)
    return None


def _drop(stream: TextIO) -> None:
    """Let what is still held back go nowhere, or Python would try again at the end."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)


def _last_words(error: Exception) -> str:
    """One line for a fault of the program itself."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = ""
    if trace is not None:
        file = os.path.basename(trace.tb_frame.f_code.co_filename)
        place = f" in {file}, line {trace.tb_lineno}"
    said = " ".join(str(error).split())[:200]
    return (
        f"advisor: a fault of the program, not of your file ({type(error).__name__}{place}"
        f"{': ' if said else ''}{said}). Send this line and the callout file, without its "
        "private part, to whoever gave you the advisor."
    )
