"""A small house with one tree, for walks from files: a question, a dead-only reading, a danger, two endings."""

from __future__ import annotations

from pathlib import Path

FILES = {
    "workshop.yaml": """
workshop: Harbour Lane Garage
rate: 60
referral: 100
comeback: 100
meters: {tester: {volt: {percent: 1, counts: 1}}}
""",
    "vehicles/petrel.yaml": """
vehicle: petrel
name: Petrel
safety: {dead_below: 30, wait: 5}
inlet: {dc_sensor: unknown, ac_sensor: {kind: ntc, r25: 10000, beta: 3435}}
""",
    "catalogue/all.yaml": """
tests:
  other-point:
    {ask: Does it charge elsewhere, place: reception, minutes: 1, outcomes: [yes, no], healthy: no, mistake: 5,
     source: x}
  burnt:
    {ask: Is it burnt, place: reception, minutes: 1, outcomes: [no, yes], healthy: no, stop: [yes], mistake: 1,
     source: x}
  sensor:
    ask: Resistance of the sensor
    place: bay
    minutes: 6
    attended: 3
    needs: {power: dead, open: [connector], state: [rested]}
    reads: {resistance: ohm, temperature: degC}
    expected: sensor_resistance(temperature, vehicle.inlet.ac_sensor)
    judge: resistance / expected
    outcomes: {low: below 0.9, normal: below 1.1, open: otherwise}
    healthy: normal
    mistake: 2
    source: x
causes:
  point:
    {name: Charge point fault, where: outside, shows: {other-point: {yes: 97, no: 3}}, source: x,
     advise: {do: Have it checked, minutes: 10}}
  sensor-open:
    name: Sensor open
    where: inlet
    source: x
    shows: {sensor: {open: 95, normal: 5}}
    correction:
      {do: Replace it., minutes: 30, parts: [{name: sensor, price: 50}], needs: {power: dead, open: [connector]}}
    proof: {charge: ac, minutes: 20, watch: [temperature]}
access:
  bench: {name: bench, open: 20, close: 20}
  connector: {name: connector, open: 4, close: 3, after: [bench], refit-before-live: true}
procedures:
  make-safe:
    minutes: 25
    needs: {open: []}
    steps:
      - {kind: unplug, do: Unplug.}
      - {kind: switch-off, do: Off.}
      - {kind: disconnect, do: Disconnect.}
      - {kind: secure, do: Lock. Who holds it?}
      - {kind: wait, minutes: vehicle.safety.wait}
      - {kind: prove-tester, do: Prove.}
      - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: vehicle.safety.dead_below}
      - {kind: prove-tester, do: Prove.}
  re-energise: {minutes: 10, steps: [{kind: reconnect, do: Reconnect.}]}
  hand-back: {minutes: 5, steps: [{kind: codes, do: Read codes.}]}
""",
    "no-charge.yaml": """
diagtree: 1
tree: no-charge
title: No charge
revision: 1
hears: [does nothing]
causes: {point: 40, sensor-open: 50, something-else: 10}
start: burnt
steps:
  burnt: {then: {yes: {refer: a specialist}, no: other-point}}
  other-point: {then: {yes: {conclude: point}, no: sensor}}
  sensor: {then: {open: {conclude: sensor-open}, low: {refer: the maker}, normal: {refer: the maker}}}
""",
}

OPEN = """
vehicle: petrel
answers:
  burnt: no
  other-point: no
  sensor: {resistance: OL, temperature: 18}
procedures:
  make-safe: {secure: shift lead, absence: [0.4, 0.1, 0.2]}
"""


def build(folder: Path) -> Path:
    """Write the house to `folder` and return it."""
    for name, text in FILES.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, "utf-8")
    return folder
