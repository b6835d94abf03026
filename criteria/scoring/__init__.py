"""The jury's numbers: weighted levels, agreement, severity, honest ranks, cohorts."""
