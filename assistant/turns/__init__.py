"""The wiring of a turn: words in, events written, an answer out."""
