"""Answers plain-language plant requests from a structured trait base."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from askplant.desk import Desk

__version__ = "0.1.0"
__all__ = ["Desk", "__version__"]


def __getattr__(name: str) -> object:
    """`Desk` is fetched when it is first named: importing the package alone costs nothing."""
    if name == "Desk":
        from askplant.desk import Desk

        return Desk
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
