"""What the desk answers to one typed line after another: requests, and a few words about the last one."""

from __future__ import annotations

from askplant.answer.answer import Answer
from askplant.commands.show import shown
from askplant.commands.why import explained
from askplant.desk import Desk
from askplant.errors import UnknownPlant
from askplant.render.screen import Screen
from askplant.render.text import answer_text

LEAVE = ("quit", "exit", "q")
HELP = """\
Type what is wanted, in your own words: evergreen, 10–15 ft, narrow, zone 7, part shade
  all            every plant that fits the last request, and why each other does not
  why PLANT      every verdict of the last request on a plant
  show PLANT     all that is known of a plant
  help           this
  quit           leave (or Ctrl-D); Ctrl-C drops the line
Tab completes plant names and known words; the arrow keys bring back earlier lines.
"""


class Sitting:
    """One sitting at the desk; it remembers the last answer."""

    def __init__(self, desk: Desk, screen: Screen) -> None:
        self.desk, self.screen = desk, screen
        self._last: Answer | None = None

    def reply(self, line: str) -> str:
        """The text for one line: a request, unless it is a word of the desk. `show me …` is one too."""
        word, _, rest = line.strip().partition(" ")
        if line.strip().casefold() == "help":
            return HELP
        if line.strip().casefold() == "all" and self._last:
            return self._told(self.desk.answer(self._last.reading, self.desk.base.count, all=True), all=True)
        if rest and word.casefold() in ("show", "why"):
            try:
                return self._about(word.casefold(), rest.strip())
            except UnknownPlant:
                pass
        return self._ask(line)

    def _about(self, word: str, name: str) -> str:
        found = self.desk.find(name)
        if word == "show":
            return shown(found, self.desk, self.screen)
        if self._last is None:
            return "Nothing has been asked yet: type a request first, then why PLANT.\n"
        return explained(found, self._last.reading, self.desk, self.screen)

    def _ask(self, line: str) -> str:
        self._last = self.desk.ask(line.strip())
        return self._told(self._last)

    def _told(self, answer: Answer, all: bool = False) -> str:
        worded = self.desk.worded(answer)
        return answer_text(worded, answer.reading, self.screen, self.desk.title, self.desk.units, all)
