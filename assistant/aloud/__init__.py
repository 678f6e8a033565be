"""A conversation by ear: what the ears get, how answers sound, a name to be called by."""
