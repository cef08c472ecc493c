"""Everything askplant raises on purpose.

    AskplantError
      UserError            yours to mend: exit status 2
        CardError          a line of traits/ that is not as declared
        RequestError       a request that cannot be read at all
        FileError          a file that is missing, unreadable or not what it should be
      UnknownPlant         no plant bears the name: exit status 3
      BaseError            the built base is missing or damaged and could not be rebuilt: exit status 4
      WritingError         a file of the user's own could not be written: exit status 4

Messages are made from fields, so that each names file, place, what was found and what was expected.
"""

from __future__ import annotations


class AskplantError(Exception):
    """Anything askplant raises on purpose; `status` is the exit status it stands for."""

    status = 4


class UserError(AskplantError):
    """Something the caller can mend."""

    status = 2


class CardError(UserError):
    """A line of traits/ says something that is not declared, or not in its form."""

    def __init__(self, file: str, line: int, found: str, expected: str) -> None:
        self.file, self.line, self.found, self.expected = file, line, found, expected
        super().__init__(f"{file}:{line}: found {found}; expected {expected}")


class RequestError(UserError):
    """A request too long or of a kind that cannot be read."""


class FileError(UserError):
    """A file is missing, unreadable or not of the form it should have."""

    def __init__(self, file: str, place: str, found: str, expected: str) -> None:
        self.file, self.place, self.found, self.expected = file, place, found, expected
        where = f"{file}:{place}" if place else file
        super().__init__(f"{where}: found {found}; expected {expected}")


class UnknownPlant(AskplantError):
    """No plant of the base bears the name; `nearest` holds the names that come closest."""

    status = 3

    def __init__(self, name: str, nearest: tuple[str, ...] = ()) -> None:
        self.name, self.nearest = name, nearest
        hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
        super().__init__(f"no plant of that name: {name}{hint}")


class BaseError(AskplantError):
    """The built base is missing or damaged, and building it anew did not succeed."""


class WritingError(AskplantError):
    """A file of the user's own could not be written; it is as it was before."""
