"""What a process that reads a file from outside may take, and how it ends with who started it.

Knows no library that reads one.
"""

from __future__ import annotations

import contextlib
import os
import select
import signal
import stat
import sys

LARGEST_FILE_MB = 40
MOST_MEMORY_MB = 1024
"""All that the process may ask for: what is held of a file, and the libraries beside it."""
MOST_SECONDS = 20
"""Of the processor."""
WITHIN_SECONDS = 30
"""By the clock: so long whoever asked waits."""
LARGEST_ANSWER_MB = 2
NICE = 10


def bound(memory_mb: int = MOST_MEMORY_MB, seconds: int = MOST_SECONDS, nice: int = NICE) -> None:
    """Bound what this process may take, where the system can, and let pages go first.

    What stops the server doesn't stop it half way: it ends soon, by itself.
    """
    for stop in (signal.SIGINT, signal.SIGTERM):
        signal.signal(stop, signal.SIG_IGN)
    with contextlib.suppress(ImportError, AttributeError, OSError, ValueError):
        import resource

        most = memory_mb * 2**20
        # of the two the first has a signal of its own: what is killed was killed by others
        resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
        resource.setrlimit(resource.RLIMIT_AS, (most, most))
    with contextlib.suppress(AttributeError, OSError):
        os.nice(nice)
    with contextlib.suppress(ImportError, AttributeError, OSError):
        _end_with_the_line()


def _end_with_the_line() -> None:
    """End when whoever started this does, however: a line from there breaks, which is signalled.

    Else another would be started for the same file while this one reads it.
    """
    import fcntl

    if stat.S_ISFIFO(os.fstat(0).st_mode):
        fcntl.fcntl(0, fcntl.F_SETOWN, os.getpid())
        fcntl.fcntl(0, fcntl.F_SETFL, os.O_ASYNC)
        if select.select([0], [], [], 0)[0]:
            sys.exit("Whoever started this has ended.")
