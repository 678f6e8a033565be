"""For all tests: no example fails for having taken long, and where it counts all are the same.

A machine that others keep busy is slow, so examples have no deadline. Where everything must pass
(PANSIDE_TEST_ALL, as `.ci/run` sets it) Hypothesis draws the same examples each time, so that the
same commit passes or fails the same; elsewhere it goes on looking for new ones.
"""

import os

from hypothesis import settings

settings.register_profile(
    "kitchen", deadline=None, derandomize=bool(os.environ.get("PANSIDE_TEST_ALL"))
)
settings.load_profile("kitchen")
