"""What everything stands on: errors, units, the clock, where data lies."""
