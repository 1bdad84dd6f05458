"""Arithmetic in knowledge: `expected`, `judge`, limits and waiting times.

One door to the rooms behind it: text to parts (`limits_parse`), parts to numbers (`limits_compute`), uncertainty
(`limits_expression`), units (`limits_units`), ranges (`limits_interval`), outcomes (`limits_judge`).
"""

from diagtree.knowledge.limits_compute import Values as Values
from diagtree.knowledge.limits_expression import Expression as Expression
from diagtree.knowledge.limits_expression import difference as difference
from diagtree.knowledge.limits_expression import evaluate as evaluate
from diagtree.knowledge.limits_expression import parse_expression as parse_expression
from diagtree.knowledge.limits_expression import propagate as propagate
from diagtree.knowledge.limits_interval import Interval as Interval
from diagtree.knowledge.limits_interval import Ranges as Ranges
from diagtree.knowledge.limits_interval import interval as interval
from diagtree.knowledge.limits_judge import Judged as Judged
from diagtree.knowledge.limits_judge import judge as judge
from diagtree.knowledge.limits_nodes import ExpressionError as ExpressionError
from diagtree.knowledge.limits_nodes import LimitError as LimitError
from diagtree.knowledge.limits_nodes import MissingName as MissingName
from diagtree.knowledge.limits_nodes import UnitMismatch as UnitMismatch
from diagtree.knowledge.limits_nodes import UnknownFact as UnknownFact
from diagtree.knowledge.limits_units import dimension as dimension
from diagtree.knowledge.limits_units import with_units as with_units
