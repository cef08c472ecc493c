"""What the common options come to: the desk to ask at, and the screen to write on."""

from __future__ import annotations

import sys
from argparse import Namespace

from askplant.desk import Desk
from askplant.render.screen import Screen, screen_for


def desk_of(arguments: Namespace) -> Desk:
    """The desk for --base and --units."""
    return Desk(arguments.base, arguments.units)


def screen_of(arguments: Namespace) -> Screen:
    """The screen for --color and --width."""
    return screen_for(sys.stdout, arguments.color, arguments.width)


def plain_screen_of(arguments: Namespace) -> Screen:
    """The screen for --color alone."""
    return screen_for(sys.stdout, arguments.color)
