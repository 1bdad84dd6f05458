"""Walks that hypothesis makes up: a car with a fault, a person who errs, and the laws that no walk may break."""
