"""How far a value is trusted: its basis, the most trusted first."""

from __future__ import annotations

COMMON_PRACTICE = "common practice"
OBSERVED = "observed"
# What the entry of a source can say of itself.
BASES = ("opened", OBSERVED, "recalled")
TRUST = {basis: place for place, basis in enumerate((*BASES, COMMON_PRACTICE))}
