"""Shared by all tests: this folder is importable, and property tests are the same from run to run."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "loadleaf", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow], print_blob=True
)
settings.load_profile("loadleaf")
