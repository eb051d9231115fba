"""Property tests try the same examples in every run: a red test is red for everybody."""

from hypothesis import settings

settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.load_profile("repeatable")
