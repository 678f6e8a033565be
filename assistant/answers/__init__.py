"""Answer cards: what a cook asks in any words, and what is said to it."""
