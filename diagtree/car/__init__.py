"""Simulated cars with a hidden fault, for the quiz and for random walks."""
