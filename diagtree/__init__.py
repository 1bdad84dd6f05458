"""Fault-diagnosis decision trees for electric cars' charging complaints."""

__version__ = "0.1.0"
