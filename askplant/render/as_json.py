"""JSON on one line: UTF-8 where the stream takes it, escapes where it does not; valid either way."""

from __future__ import annotations

import json
from typing import Any, TextIO


def dumped(value: Any, stream: TextIO) -> str:
    """The value as JSON for this stream."""
    plain = not (stream.encoding or "").lower().replace("-", "").startswith("utf")
    return json.dumps(value, ensure_ascii=plain, allow_nan=False)
