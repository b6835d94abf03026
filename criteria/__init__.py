"""What a small building is judged by: quantities, schedules, measures, checks and scoring."""

import os

# Our matrices are of tens of rows: threads of the linear algebra that wait for one another took
# five times the processor's time. Read when numpy is first imported; whoever has set it keeps it.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

__version__ = "0.1.0"
