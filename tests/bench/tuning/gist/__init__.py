"""Tuning the sentence model to what is asked and told in this kitchen."""
