"""Bytes of a text file → its text and the name of its encoding. Never fails."""

from __future__ import annotations

import codecs

MARKS = (
    (codecs.BOM_UTF8, "utf-8", "UTF-8"),
    (codecs.BOM_UTF32_LE, "utf-32", "UTF-32"),
    (codecs.BOM_UTF32_BE, "utf-32", "UTF-32"),
    (codecs.BOM_UTF16_LE, "utf-16", "UTF-16"),
    (codecs.BOM_UTF16_BE, "utf-16", "UTF-16"),
)
LOST = "\ufffd"  # stands where bytes are no character
SAMPLE = 200_000  # bytes looked at to tell an encoding
# What Western European text in the usual Windows encoding holds beside ASCII. charset-normalizer takes such text, where it is
# short, for Central European as often as not (tried: three lines with ë, é, ½ and dashes), so that this is looked for first.
WESTERN = frozenset("ÀÁÂÄÅÆÇÈÉÊËÌÍÎÏÑÒÓÔÖØÙÚÛÜàáâäåæçèéêëìíîïñòóôöøùúûüÿßŒœ–—‘’‚“”„…•°´·×±½¼¾²³®™©€£§«»¿¡\xa0")
# What one program wrote as UTF-8 and another read as Windows-1252, before the file was saved again: × as Ã—.
_GARBLED = {
    "".join(bytes((byte,)).decode("cp1252", "ignore") or chr(byte) for byte in one.encode()): one
    for one in sorted(WESTERN | {"′", "″"})
}
OTHERS = (
    "cp1252",
    "cp1250",
    "cp1251",
    "cp1253",
    "cp1254",
    "cp1257",
    "mac_roman",
    "cp437",
    "cp850",
    "shift_jis",
    "big5",
    "gb18030",
)


def decoded(raw: bytes) -> tuple[str, str]:
    """The text, and how it was encoded in words."""
    for mark, codec, name in MARKS:
        if raw.startswith(mark):
            return raw.decode(codec, "replace").removeprefix("\ufeff"), name
    try:
        if b"\0" not in raw[:SAMPLE]:
            return raw.decode("utf-8"), "UTF-8"
    except UnicodeDecodeError:
        text = raw.decode("utf-8", "replace")
        lost = text.count(LOST)
        if (
            sum(not one.isascii() for one in text) > 2 * lost
        ):  # a slip in it: in any other encoding hardly a sign would be right
            return text, "UTF-8"
    codec, name = _told(raw[:SAMPLE])
    return raw.decode(codec, "replace"), name


def ungarbled(text: str) -> str:
    """A text in which signs that were read in a wrong encoding are right again."""
    if text.isascii():
        return text
    for garbled, one in _GARBLED.items():
        text = text.replace(garbled, one)
    return text


def _told(sample: bytes) -> tuple[str, str]:
    """The encoding of bytes that bear no mark and are no UTF-8."""
    if b"\0" in sample:
        zeros = sample[1::2].count(0), sample[::2].count(0)
        return ("utf-16-le" if zeros[0] >= zeros[1] else "utf-16-be"), "UTF-16 without its mark"
    if set(sample.decode("cp1252", "replace")) - WESTERN <= {chr(number) for number in range(128)}:
        return "cp1252", "Windows-1252"
    from charset_normalizer import from_bytes  # late: few files need it

    best = from_bytes(sample, cp_isolation=list(OTHERS)).best()
    return (best.encoding, f"{best.encoding}, by the look of it") if best else ("cp1252", "Windows-1252")
