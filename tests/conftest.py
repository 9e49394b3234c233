"""What all tests share: hypothesis looks at the same examples in every checked run, and takes no slow machine for a fault."""

import os

from hypothesis import HealthCheck, settings

settings.register_profile("home", deadline=None, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("ci" if os.environ.get("CI") else "home")
