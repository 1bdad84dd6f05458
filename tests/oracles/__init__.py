"""Slow, obvious twins of the clever code. They share nothing with it but the format of the documents."""
