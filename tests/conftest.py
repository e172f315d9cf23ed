"""What hypothesis draws: the same in every run, or at will something new."""

import os

from hypothesis import settings

# Its profile for servers draws without chance and judges no test by its time.
STEADY = settings.get_profile("ci")
settings.register_profile("steady", STEADY)
settings.register_profile("explore", STEADY, derandomize=False)
settings.load_profile(os.environ.get("KEEPDAMP_DRAWS", "steady"))
