"""Answers plain-language plant requests from a structured trait base."""

__version__ = "0.1.0"
