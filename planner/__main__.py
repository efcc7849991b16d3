"""Run the command line, as ``planner`` or as ``python -m planner``.

Before a Ctrl-C can be heard nothing is imported that takes time.
"""

import gc
import os
import signal
import sys
from types import FrameType

COLLECTED_EVERY = 100_000, 10, 10
"""Objects between two looks for garbage in circles (`gc.set_threshold`): a search makes many that
are not, and a tenth of its time went into looking (measured)."""


def main() -> None:
    """Run the command line and leave with its exit code."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, _leave)
    from planner.cli.terminal.interrupt import hearing, listen, run_listening  # noqa: PLC0415 - as above
    from planner.cli.terminal.streams import NotWritten, open_streams  # noqa: PLC0415

    try:
        open_streams()
    except NotWritten as problem:
        sys.exit(problem.say())
    listen()
    code = run_listening(_run)
    if hearing.times:
        os._exit(code)  # threads that were left behind are not waited for
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_IGN)  # all is said and done
    sys.exit(code)


def _run() -> int:
    gc.set_threshold(*COLLECTED_EVERY)
    from planner.cli.main import run  # noqa: PLC0415

    return run(sys.argv[1:])


def _leave(_number: int, _frame: FrameType | None) -> None:
    """End while nothing but the interpreter is there."""
    os.write(2, b"Interrupted.\n")
    os._exit(130)


if __name__ == "__main__":
    main()
