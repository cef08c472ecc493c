"""One sitting at the desk: line after line, each a request, a change of it, a question, or a word of the desk's own."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

from askplant.answer.answer import Answer
from askplant.commands import asking, listing
from askplant.commands.asking import NOTHING_ASKED, PAGE
from askplant.commands.orders import Order, help_of, help_text, numbers, order_of
from askplant.desk import Desk
from askplant.errors import WritingError
from askplant.quantities.lengths import Units
from askplant.reading.refine import As, refine, refiner
from askplant.reading.refinement import Fresh, Question, Refinement, Taken
from askplant.render.at_desk import ask_back, hint, reply_text, unchanged_text
from askplant.render.calls import calls_text
from askplant.render.refined import said_of
from askplant.render.screen import Screen
from askplant.render.understood import echoes_of, understood
from askplant.render.wording import Worded
from askplant.sitting import calls, journal
from askplant.sitting.journal import Journal
from askplant.sitting.state import Past, Shortlist, State

OFTEN = 2  # a question that was put so often is not put again: the caller will not say
FEWEST = 2  # plants shown even where a reply has to go on into the lines that typing takes
MOST_OVER = 3  # such lines; beyond them what the line did would be out of sight
AGO = "%Y-%m-%d %H:%M"


class Sitting:
    """One sitting; it remembers the request and everything before it, and the short list.

    `kept` keeps it on the disk, `log` is the file of the log of calls; None for either keeps nothing. `plain` draws nothing.
    `answer` is the last answer, `page` the places of it that were shown last, `it` the plant that was spoken of last.
    """

    def __init__(
        self, desk: Desk, screen: Screen, kept: Journal | None = None, log: Path | None = None, plain: bool = False
    ) -> None:
        self.desk, self.screen, self.plain = desk, screen, plain
        self.journal, self.log = kept or Journal(None), log
        self.past, self.shortlist = Past(), Shortlist()
        self.trouble = ""  # that something could not be kept, said once with the next reply
        self.rows: int | None = None  # lines a reply may have, where the screen sets a bound
        self._logging = True
        self._put: Counter[str] = Counter()  # questions to ask back, and how often each was put for this request
        self.answer: Answer | None = None
        self.page = range(0)
        self.listing = False  # whether numbers are those of the short list, which was shown last
        self.it: int | None = None  # the plant spoken of last
        self._line: tuple[str, Past] | None = (
            None  # the last line that was a request or a change, and what stood before
        )
        self._orders: dict[str, Callable[[str], str | None]] = {
            "help": lambda rest: help_text(screen.fold) if rest in ("", "me") else None,
            "undo": lambda _: self._undo(),
            "redo": lambda _: self._redo(),
            "request": lambda _: self._request(),
            "apart": lambda _: self._otherwise("new"),
            "together": lambda _: self._otherwise("change"),
            "off": lambda rest: self._switch(rest, on=False),
            "on": lambda rest: self._switch(rest, on=True),
            "full": lambda _: asking.full(self, all=False),
            "all": lambda _: asking.full(self, all=True),
            "say": lambda rest: asking.say(self, rest),
            "show": lambda rest: asking.about(self, "show", rest),
            "why": lambda rest: asking.about(self, "why", rest),
            "keep": lambda rest: listing.keep(self, rest),
            "drop": lambda rest: listing.drop(self, rest),
            "note": lambda rest: listing.note(self, rest),
            "list": lambda _: listing.listed(self),
            "compare": lambda rest: listing.compare(self, rest),
            "export": lambda rest: listing.export(self, rest),
            "save": self._save,
            "open": self._open,
            "sittings": lambda _: self._sittings(),
            "log": self._log,
        }

    # ---- a line

    def reply(self, line: str) -> str:
        """The text for one line."""
        order = order_of(line, refiner(self.desk.base).reader.vocabulary)
        said = self._ordered(order) if order is not None else None
        if said is None:
            before = self.past
            said = self._asked(line.strip())
            if order is not None and self.past == before:  # no word of ours by its form, and no request either
                said += "".join(f"{row}\n" for row in self.screen.fold(help_of(order.word) or ""))
        trouble, self.trouble = self.trouble, ""
        return said + trouble

    @property
    def shown(self) -> tuple[str, ...]:
        """The botanical names of the plants that were shown last, in the order that "the second" counts in."""
        plants, _ = asking.numbered(self)
        return tuple(
            self.desk.plant(plant).botanical for plant in (plants if self.listing else plants[: self.page.stop])
        )

    @property
    def spoken_of(self) -> str | None:
        """The botanical name of the plant that was spoken of last, which "it" stands for."""
        return self.desk.plant(self.it).botanical if self.it is not None else None

    @property
    def units(self) -> Units:
        """What lengths are said in."""
        now = self.past.now
        return self.desk.units or (now.reading.units if now is not None else "us")

    def _ordered(self, order: Order) -> str | None:
        do = self._orders.get(order.word)
        return do(order.rest) if do is not None else None

    def _asked(self, line: str, taken: As = "by rule") -> str:
        now = self.past.now
        found = refine(now.reading if now else None, line, self.desk.base, self.shown, taken, self.spoken_of)
        if isinstance(found, Question):
            return self._undo() if found.ask == "undo" else asking.questioned(self, found)
        self._line = (line, self.past)
        return self._take(found, line)

    def _take(self, found: Taken, line: str) -> str:
        assert not isinstance(found, Question)
        now = self.past.now
        if isinstance(found, Refinement) and now is not None and _changes_nothing(now, found):
            self._line = None
            return self._unchanged(found, line)
        fresh = isinstance(found, Fresh)
        state = State(found.reading, frozenset(), line) if fresh or now is None else now.on_with(found.reading, line)
        if fresh and not found.reading.conditions and not found.reading.unread and not found.reading.named:
            self.answer, self.page = None, range(0)
            self._remember(state)
            return "A new request: type what is wanted.\n"
        self._remember(state)
        return self._answered(state, found)

    def _unchanged(self, found: Refinement, line: str) -> str:
        """A line that changed nothing is told and logged, and is no part of the request."""
        if self.answer is not None and self.past.now is not None:
            self._logged(State(found.reading, line=line), self.desk.worded(self.answer))
        return unchanged_text(found, line, self.screen, self.units)

    def _remember(self, state: State) -> None:
        self.past = self.past.then(state)
        self.keep_entry("state", **journal.state_told(state))

    def keep_entry(self, happened: str, **told: Any) -> None:
        try:
            self.journal.add(happened, **told)
        except WritingError as problem:
            self.trouble = f"askplant: {problem}\n"

    def _answered(self, state: State, found: Refinement | Fresh | None, log: bool = True) -> str:
        self.listing = False
        self.answer = self.desk.answer(state.asked, max(PAGE, state.asked.task.count or 0), noted=False)
        self.it = self.answer.matches[0].plant if self.answer.matches else None
        told = self.desk.worded(self.answer)
        if log:
            self._logged(state, told)
        often = self._often(told, found)
        for count in range(self.answer.shown, -1, -1):
            self.page = range(count)
            text = reply_text(told, state, found, self.page, self.screen, self.desk.title, self.units, often)
            over = text.count("\n") - self.rows if self.rows is not None else 0
            if over <= (MOST_OVER if count <= FEWEST else 0) or count <= 1 or state.asked.task.count:
                break
        hints = self.screen.fold(hint(state)) if self.rows is None else []
        return text + "".join(f"{self.screen.styled(line, 'faint')}\n" for line in hints)

    def _often(self, told: Worded, found: Refinement | Fresh | None) -> list[str]:
        """The questions that were put often enough; this reply's is counted in. Without a line, none."""
        if found is None:
            return []
        if isinstance(found, Fresh):
            self._put.clear()
        often = [question for question, times in self._put.items() if times >= OFTEN]
        self._put.update(filter(None, [ask_back(told, often)]))
        return often

    def _logged(self, state: State, told: Worded) -> None:
        if self.log is None or not self._logging:
            return
        assert self.answer is not None
        prices = sorted(self.answer.prices, key=lambda price: -price.alone)
        line = state.line
        strangers = [one.mention.plant for one in self.answer.named if one.plant is None]
        call = calls.Call(
            calls.now(), line, told.asked, len(self.answer.matches),
            tuple(match["plant"] for match in told.json["matches"][: calls.TOLD_PLANTS]),
            tuple(one.text for one in state.reading.unread if one.at[0] >= state.since), tuple(strangers),
            told.asked[prices[0].condition] if prices and not self.answer.matches else None,
        )  # fmt: skip
        try:
            calls.add(self.log, call)
        except OSError as problem:
            self._logging = False
            self.trouble = f"askplant: {self.log}: calls are not logged: {(problem.strerror or 'trouble').lower()}\n"

    # ---- back, forward, otherwise, off and on

    def _undo(self) -> str:
        before, self.past = self.past, self.past.undone()
        if before == self.past:
            return "There is nothing to take back.\n"
        self.keep_entry("undo")
        assert before.now is not None
        return self.stands(f"taken back: {before.now.line}")

    def _redo(self) -> str:
        before, self.past = self.past, self.past.redone()
        if before == self.past:
            return "There is nothing to go forward to.\n"
        self.keep_entry("redo")
        assert self.past.now is not None
        return self.stands(f"again: {self.past.now.line}")

    def stands(self, said: str) -> str:
        """The answer to the request as it stands now, behind what happened."""
        first = "\n".join(self.screen.fold(said)) + "\n"
        now = self.past.now
        if now is None:
            self.answer, self.page, self.it = None, range(0), None
            return first + NOTHING_ASKED
        return first + self._answered(now, None, log=False)

    def _otherwise(self, taken: As) -> str | None:
        """The last line once more, taken as somebody says."""
        if self._line is None or self._line[1].now is None:
            return "There is no line that could be taken otherwise.\n"
        line, before = self._line
        if self.past.now is None or self.past.now.line != line:
            return "The last line was no request: undo goes back to one.\n"
        self.past = before
        self.keep_entry("undo")
        return self._asked(line, taken)

    def _switch(self, rest: str, on: bool) -> str | None:
        chosen = numbers(rest)
        now = self.past.now
        if chosen is None:
            return None
        if now is None:
            return NOTHING_ASKED
        try:
            for number in chosen:
                now = now.switched(number, on)
        except IndexError:
            return f"There are wishes 1 to {len(now.reading.conditions)}: request shows them.\n"
        said = ", ".join(said_of(now.reading.conditions[number - 1], self.units) for number in chosen)
        word = "on" if on else "off"
        self._remember(State(now.reading, now.off, f"{word} {rest}"))
        return self.stands(f"{word}: {said}")

    def _request(self) -> str:
        now = self.past.now
        if now is None:
            return NOTHING_ASKED
        lines = understood(now.reading, echoes_of(now.reading, self.desk.units), self.screen)
        off = [str(n) for n, found in enumerate(now.reading.conditions, 1) if found in now.off]
        lines += [f"  off: {', '.join(off)}"] if off else []
        lines += [line for typed in now.reading.request.splitlines() for line in self.screen.fold(typed, "  typed  ")]
        return "\n".join(lines) + "\n"

    # ---- sittings and the log

    def _save(self, rest: str) -> str | None:
        if " " in rest:
            return None
        self.journal.rename(rest)
        return f"kept as {rest} from now on: open {rest} goes on with it\n"

    def _open(self, rest: str) -> str | None:
        folder = self.journal.folder
        if rest == self.journal.name:
            return f"{rest} is the sitting that is open.\n"
        name = rest if any(rest == one for one, _ in journal.references(folder)) else None
        if rest == "last":
            name = journal.left_open(folder)
        if name is None or folder is None:
            read = self.desk.read(rest)
            if " " in rest or (read.conditions and not read.unread):
                return None
            return f"There is no sitting {rest}: sittings lists them.\n"
        return self.go_on(folder, name)

    def go_on(self, folder: Path, name: str) -> str:
        """Take up a sitting where it was left; UserError where there is none, or another program has it."""
        found = journal.opened(folder / f"{name}{journal.SUFFIX}")
        taken = Journal(folder, name)
        taken.add("opened")
        self.journal.close()
        self.journal, self.past, self.shortlist, self._line = taken, found.past, found.shortlist, None
        listed = f", {len(self.shortlist.plants)} on the short list" if self.shortlist.plants else ""
        return self.stands(f"open: {name}{listed}")

    def _sittings(self) -> str:
        found = [(name, when) for name, when in journal.references(self.journal.folder) if name != self.journal.name]
        if not found:
            return "There are no sittings yet: save A-1204 keeps this one under a reference.\n"
        lines = [f"  {time.strftime(AGO, time.localtime(when))}  {name}" for name, when in found]
        return "\n".join([*lines, "open NAME goes on with one"]) + "\n"

    def _log(self, rest: str) -> str | None:
        if rest in ("on", "off"):
            self._logging = rest == "on"
            return f"Calls are {'' if self._logging and self.log else 'not '}logged{'' if self.log else ' (by setting)'}.\n"
        if rest or self.log is None:
            return None if rest else "Calls are not logged.\n"
        return calls_text(calls.summary(calls.calls(self.log)), str(self.log), self.screen)


def _changes_nothing(now: State, found: Refinement) -> bool:
    return not found.changes and found.task is None and found.reading.named == now.reading.named
