"""Settings every test shares: property tests are the same on every run, and explore on demand."""

from hypothesis import HealthCheck, settings

settings.register_profile(
    "steady",
    derandomize=True,
    deadline=None,
    max_examples=40,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile(
    "explore", deadline=None, max_examples=3000
)  # --hypothesis-profile=explore
settings.load_profile("steady")
