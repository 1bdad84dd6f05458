"""Formulas of charging, with unit, range and published source. Pure.

`quantities/` holds one quantity a file; `quantity` is the record that each of them defines as QUANTITY.
"""
