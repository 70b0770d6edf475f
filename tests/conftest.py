"""For all tests: no network for models, and no time limits."""

import os

from hypothesis import settings

# Read when huggingface_hub is first imported, so it is set before any test module is.
os.environ["HF_HUB_OFFLINE"] = "1"

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")
