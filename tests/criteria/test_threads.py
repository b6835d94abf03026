"""The library's small matrices are worked on by one thread, unless somebody says otherwise."""

import os
import subprocess
import sys

import pytest


@pytest.mark.parametrize(("said", "held"), [(None, "1"), ("4", "4")])
def test_one_thread_unless_it_is_said(said, held):
    surroundings = {k: v for k, v in os.environ.items() if k != "OPENBLAS_NUM_THREADS"}
    surroundings |= {"OPENBLAS_NUM_THREADS": said} if said else {}
    program = "import criteria.scoring, os; print(os.environ['OPENBLAS_NUM_THREADS'])"
    done = subprocess.run(
        [sys.executable, "-c", program],
        env=surroundings,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == held
