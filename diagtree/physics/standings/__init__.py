"""Limits of standards that a computed or measured quantity is set against, one subject a file."""
