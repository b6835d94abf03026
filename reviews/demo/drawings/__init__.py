"""Draw a demo package's eight sheets to scale, from its schedules alone."""
