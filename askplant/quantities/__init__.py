"""Lengths, zones, months and temperatures: one grammar of quantities for what callers say and what cards hold."""
