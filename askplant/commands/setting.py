"""What the common options come to: the desk to ask at, and the screen to write on."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant.desk import Desk
from askplant.errors import FileError
from askplant.render.screen import Screen, screen_for
from askplant.stock import Stock, kept

NO_STOCK = "none"  # instead of a file's name: no list, whatever the user has set


def desk_of(arguments: Namespace) -> Desk:
    """The desk for --base and --units, with the stock list of --stock, or the one that the user has set."""
    desk = Desk(arguments.base, arguments.units)
    desk.stock = stock_of(getattr(arguments, "stock", NO_STOCK), desk)
    return desk


def stock_of(named: str | None, desk: Desk) -> Stock | None:
    """The stock list of a file, or of none for `none`, or the one that is set. One that is set and cannot be read is said, and
    what is asked is answered without it.
    """
    if named == NO_STOCK:
        return None
    if named is None and not kept.is_chosen():
        return None
    try:
        setting = kept.Setting(named) if named is not None else kept.chosen()
        return kept.ready(setting, desk.base) if setting is not None else None
    except FileError as problem:
        if named is not None:
            raise
        print(f"askplant: stock list: {problem}; answered without it", file=sys.stderr)
        return None


def screen_of(arguments: Namespace) -> Screen:
    """The screen for --color and --width."""
    return screen_for(sys.stdout, arguments.color, arguments.width)


def plain_screen_of(arguments: Namespace) -> Screen:
    """The screen for --color alone."""
    return screen_for(sys.stdout, arguments.color)
