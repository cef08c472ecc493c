"""The care calendar as iCalendar (RFC 5545): one all-day event a task, yearly where it comes again."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime, timedelta

from icalendar import Calendar, Event

from askplant.care import thirds
from askplant.render.care import Said, WordedCare

PRODUCT = "-//askplant//care calendar//EN"
DOMAIN = "askplant.invalid"  # RFC 2606: no host of anybody's


def care_ics(care: WordedCare, stamp: date) -> bytes:
    """The file's bytes. `stamp` is the day that DTSTAMP names; equal calendars and stamps give equal bytes."""
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    for one in care.said:
        calendar.add_component(_event(one, care, stamp))
    data: bytes = calendar.to_ical()
    return data


def _event(one: Said, care: WordedCare, stamp: date) -> Event:
    task = one.task
    names = dict(zip(care.calendar.plants, care.json["plants"], strict=True))
    named = [names[n]["botanical"] for n in task.plants]
    event = Event()
    event.add("uid", f"{_identity(one, care)}@{DOMAIN}")
    event.add("dtstamp", datetime(stamp.year, stamp.month, stamp.day, tzinfo=UTC))
    event.add("dtstart", thirds.starts(task.begins))
    event.add("dtend", thirds.ends(task.ends) + timedelta(days=1))
    event.add("summary", one.text[:1].upper() + one.text[1:])
    event.add("description", "; ".join(part for part in (", ".join(named), one.when, one.years) if part))
    event.add("categories", [task.kind])
    event.add("transp", "TRANSPARENT")
    if task.times is None:
        event.add("rrule", {"freq": "yearly"})
    elif task.times > 1:
        event.add("rrule", {"freq": "yearly", "count": task.times})
    return event


def _identity(one: Said, care: WordedCare) -> str:
    """What makes a task this one: its code, plants, place and dates. Its wording may change without a second event."""
    task = one.task
    ids = [plant["plant"] for plant in care.json["plants"]]
    by_number = dict(zip(care.calendar.plants, ids, strict=True))
    parts = (task.code, *(by_number[n] for n in task.plants), care.json["site"]["zone"], *task.words[:1])
    dates = (task.begins, task.ends, *task.seasons)
    return hashlib.sha256(repr((parts, dates)).encode()).hexdigest()[:32]
