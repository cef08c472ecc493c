"""The exit statuses that the command promises, and what each of them says."""

FITS, NOTHING_FITS, WRONG_USE, UNKNOWN_PLANT, TROUBLE, STOPPED = 0, 1, 2, 3, 4, 130

MEANINGS = {
    FITS: "something fits, or the command is done",
    NOTHING_FITS: "nothing fits the request",
    WRONG_USE: "wrong use, or input that cannot be used",
    UNKNOWN_PLANT: "no plant of that name",
    TROUBLE: "the base is missing or damaged, output cannot be written, or trouble inside",
    STOPPED: "stopped with Ctrl-C",
}


def listed() -> str:
    """The statuses, one a line, as --help prints them."""
    return "\n".join(f"  {status:<4} {meaning}" for status, meaning in MEANINGS.items())
