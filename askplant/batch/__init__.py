"""A whole table of requests, answered row by row into another table."""
