"""Every planter there is: a mistake for each rule, planted in a valid folder."""

from __future__ import annotations

from tests.check import mutants_graph, mutants_links, mutants_reading, mutants_safety
from tests.check.mutant_tools import PLANTERS, Planted

__all__ = ["PLANTERS", "Planted", "mutants_graph", "mutants_links", "mutants_reading", "mutants_safety"]
