"""A sitting at the desk as plain data: requests and their changes, the short list, and what is kept of both on the disk."""
