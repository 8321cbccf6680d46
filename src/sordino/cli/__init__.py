"""The command line."""

import os

# The matrices are small: threads inside linear algebra only hinder the processes that solve boxes side by side.
for _name in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS"):
    os.environ.setdefault(_name, "1")
