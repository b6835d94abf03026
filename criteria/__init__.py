"""What a small building is judged by: quantities, schedules, measures, checks and scoring."""
