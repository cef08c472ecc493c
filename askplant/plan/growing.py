"""The plan's one door to growth: courses of height and width over the years."""

from __future__ import annotations

from askplant.growth.course import Band, Course, Span, course

__all__ = ["Band", "Course", "Span", "course"]
