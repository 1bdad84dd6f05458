"""The small folder of knowledge on which rules are explained: a workshop, two accesses, three tests, three causes.

A rule's example replaces one or more of these files. It is an invented example, not knowledge.
"""

from __future__ import annotations

from collections.abc import Mapping

TREE = """\
diagtree: 1
tree: tree
title: AC charging fails
revision: 1
hears: [does not charge at home]
causes: {point-fault: 40, sensor-open: 30, something-else: 30}
start: other-point
steps:
  other-point:
    then:
      yes: {conclude: point-fault}
      no: sensor-resistance
  sensor-resistance:
    then:
      normal: {refer: the maker's helpline}
      open: {conclude: sensor-open}
"""

CATALOGUE = """\
tests:
  other-point:
    ask: Does the car charge on another charge point with the same cable?
    place: reception
    minutes: 1
    outcomes: [yes, no]
    healthy: no
    mistake: 5
    source: estimate, common practice
  sensor-resistance:
    ask: Resistance of the inlet's temperature sensor
    how: [Unplug the low-voltage connector of the inlet., Measure between the two sensor pins.]
    place: bay
    minutes: 6
    needs: {power: dead, open: [inlet-connector]}
    qualification: high-voltage
    reads: {resistance: ohm}
    outcomes: {normal: below 50000, open: otherwise}
    healthy: normal
    mistake: 2
    source: estimate, common practice
causes:
  point-fault:
    name: Fault in the owner's charge point
    where: outside
    shows: {other-point: {yes: 97, no: 3}}
    advise: {do: Have the charge point checked by its installer., minutes: 10}
  sensor-open:
    name: Inlet temperature sensor open circuit
    where: inlet
    shows: {sensor-resistance: {open: 92, normal: 8}}
    correction:
      do: Replace the sensor
      minutes: 60
      parts: [{name: sensor, price: 80}]
      needs: {power: dead, open: [inlet-connector]}
    proof: {charge: ac, minutes: 30}
access:
  undertray: {name: undertray, open: 6, close: 8}
  inlet-connector: {name: low-voltage connector of the inlet, open: 4, close: 3, refit-before-live: true}
procedures:
  make-safe:
    minutes: 25
    needs: {open: [undertray]}
    steps:
      - {kind: unplug, do: Unplug the charging cable.}
      - {kind: switch-off, do: Switch the car off.}
      - {kind: disconnect, do: Open the service disconnect.}
      - {kind: secure, do: Lock the key away. Who holds it?}
      - {kind: wait, do: Wait for the capacitors., minutes: 5}
      - {kind: prove-tester, do: Prove the tester on a known source.}
      - kind: absence
        do: Measure.
        between: [DC+ and DC-, DC+ and chassis, DC- and chassis]
        below: 60
      - {kind: prove-tester, do: Prove the tester again.}
  re-energise:
    minutes: 10
    steps: [{do: Close the service disconnect.}]
  hand-back:
    minutes: 10
    steps: [{do: Read the codes.}]
"""

WORKSHOP = """\
workshop: Harbour Lane Garage
rate: 96
referral: 250
comeback: 300
meters: {multimeter: {ohm: {percent: 0.9, counts: 3}, volt: {percent: 0.5, counts: 2}}}
"""

BASE: Mapping[str, str] = {
    "tree.yaml": TREE,
    "catalogue/catalogue.yaml": CATALOGUE,
    "workshop.yaml": WORKSHOP,
}
