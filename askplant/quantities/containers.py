"""Containers and ways of digging as the trade writes them → codes: `3 gal` and `#3` are both `#3`.

Trade sizes are those of the American Standard for Nursery Stock (ANSI Z60.1), #1 to #100: the trade calls them gallons, though
they hold less.
"""

from __future__ import annotations

import re

_TRADE = re.compile(r"#\s*(\d+(?:\.\d+)?)|(?<!\d)(\d+(?:\.\d+)?)\s*(?:-\s*)?(?:gallons?|gals?|gl|g)\b", re.IGNORECASE)
_QUART = re.compile(r"(?<!\d)(\d+(?:\.\d+)?)\s*(?:-\s*)?(?:quarts?|qts?)\b", re.IGNORECASE)
_INCH_POT = re.compile(
    r"(?<!\d)(\d+(?:\.\d+)?)\s*(?:-\s*)?(?:\"|″|”|in\.?|inch)\s*(?:pots?|containers?)\b", re.IGNORECASE
)
_CALIPER = re.compile(
    r"(?<!\d)(\d+(?:\.\d+)?)(?:\s*-\s*\d+(?:\.\d+)?)?\s*(?:-\s*)?(?:(?:\"|″|”|in\.?|inch)\s*)?(?:caliper|cal)\b",
    re.IGNORECASE,
)
_BALLED = re.compile(r"\bb\s*&\s*b\b|\bballed(?:\s+(?:and|&)\s+burlapped)?\b", re.IGNORECASE)
_BARE_ROOT = re.compile(r"\bbare[\s-]?root(?:ed)?\b", re.IGNORECASE)
_FORMS = (
    (_TRADE, "#{}"), (_QUART, "{} qt"), (_INCH_POT, "{} in pot"), (_CALIPER, "{} in caliper"), (_BALLED, "B&B"),
    (_BARE_ROOT, "bare root"),
)  # fmt: skip


def container_codes(text: str) -> tuple[str, ...]:
    """What a text says of containers, as codes, each once, by kind."""
    found = [form.format(_number(one)) for pattern, form in _FORMS for one in pattern.finditer(text)]
    return tuple(dict.fromkeys(found))


def container_spans(text: str) -> list[tuple[int, int]]:
    """Where a text speaks of containers, first to last."""
    return sorted(one.span() for pattern, _ in _FORMS for one in pattern.finditer(text))


def _number(one: re.Match[str]) -> str:
    return next((f"{float(group):g}" for group in one.groups() if group), "")
