"""Run what reads a file from outside apart: with no secret of the site, and ended with it."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

KILLED = -9
"""What `subprocess` says of a process that was killed."""


def run_apart(command: Sequence[str], within_s: float) -> subprocess.CompletedProcess[bytes]:
    """Run a command to its end; raises subprocess.TimeoutExpired where the time is up."""
    # no secret goes where what was sent is read; one heap, so that its memory has an end
    kept = {k: v for k, v in os.environ.items() if not k.startswith(("MUNTIN_", "DATABASE_"))}
    alone = {"MALLOC_ARENA_MAX": "1", "VIPS_CONCURRENCY": "1", "OPENBLAS_NUM_THREADS": "1"}
    alone |= {"PYTHONPATH": str(ROOT)}
    end, line = os.pipe()  # which breaks when this process ends: so does the one that reads
    try:
        return subprocess.run(
            command, env={**kept, **alone}, stdin=end, capture_output=True, timeout=within_s
        )
    finally:
        os.close(end)
        os.close(line)
