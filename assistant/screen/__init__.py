"""The kitchen page: rooms over sessions, what the page shows, and who may see it."""
