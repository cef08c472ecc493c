"""Sittings at the desk."""
