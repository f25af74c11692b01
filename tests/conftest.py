"""Settings for every test: the same draws each time, and no stopwatch.

`HYPOTHESIS_PROFILE=explore ./run test` draws afresh and more.
"""

import os

from hypothesis import HealthCheck, settings

import limen.desk  # noqa: F401  # says where the kernels compiled at set-up are kept

# A shared machine may be slow for reasons that are none of ours.
_PATIENT = {
    "deadline": None,
    "suppress_health_check": [HealthCheck.too_slow],
    "print_blob": True,
}

settings.register_profile("fixed", derandomize=True, database=None, **_PATIENT)
settings.register_profile("explore", max_examples=1000, **_PATIENT)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))
