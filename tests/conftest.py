"""For all tests: no example fails for having taken long on a machine that others keep busy."""

from hypothesis import settings

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
