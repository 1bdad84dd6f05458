"""Where one defect of the control pilot ends and the next begins: resistances at the edges of the states' windows."""

from __future__ import annotations

SHORT_BELOW = 91.0
"""Less from pilot to earth leaves an empty station below 1 V, state E: 12 V * R / (1000 ohm + R). [ohm]"""
STATE_A_FROM = 10e3
"""More in the loop is state A to a station: more than 10 kOhm in all, by an open station firmware. [ohm]"""
