"""What a small building is judged by: quantities, schedules, measures, checks and scoring."""

__version__ = "0.1.0"
