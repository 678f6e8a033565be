"""Coverage-guided fuzzing: what a target does with bytes, and the inputs kept of it."""
