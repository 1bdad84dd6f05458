"""A small invented knowledge folder with every trap of a walk: nested and dead-only accesses, a seal that must be shut
before the car is live, making safe that opens something, a road test, a danger, a maker's value that is not known."""

from __future__ import annotations

TEXTS = {
    "workshop.yaml": """\
workshop: Harbour Lane Garage
rate: 60
referral: 250
comeback: 300
absence_holds: 240
meters:
  multimeter: {ohm: {percent: 1, counts: 3}, volt: {percent: 0.5, counts: 2}}
  bench-meter: {ohm: {percent: 0.1, counts: 1}}
""",
    "vehicles/petrel-9.yaml": """\
vehicle: petrel-9
name: Petrel for tests
inlet: {ac_sensor: {kind: ntc, r25: 10000, beta: 3435}, dc_sensor: unknown}
safety: {dead_below: 30, wait: 5}
""",
    "catalogue/all.yaml": """\
tests:
  desk-question: {ask: Is it so?, place: reception, minutes: 2, outcomes: [yes, no], healthy: no, mistake: 5,
    source: common practice}
  danger-look: {ask: Is it burnt?, place: reception, minutes: 1, outcomes: [no, yes], healthy: no, stop: [yes],
    mistake: 3, source: common practice}
  cover-resistance:
    ask: Resistance behind the cover
    place: bay
    minutes: 6
    attended: 3
    needs: {power: dead, open: [cover], tools: [multimeter], state: [The car has rested.]}
    qualification: high-voltage
    reads: {resistance: ohm}
    outcomes: {low: below 100, normal: below 2000, high: otherwise}
    healthy: normal
    mistake: 2
    source: common practice
  sensor-ratio:
    ask: Resistance of the sensor
    place: bay
    minutes: 5
    needs: {power: any, open: [seal], tools: [multimeter]}
    reads: {resistance: ohm, temperature: degC}
    expected: sensor_resistance(temperature, vehicle.inlet.dc_sensor)
    judge: resistance / expected
    outcomes: {low: below 0.9, normal: below 1.1, high: otherwise}
    healthy: normal
    mistake: 2
    source: common practice
  live-voltage: {ask: Voltage while it charges, place: bay, minutes: 4, needs: {power: live, open: [seat]},
    reads: {level: volt}, outcomes: {low: below 207, normal: otherwise}, healthy: normal, mistake: 2,
    qualification: electrician, source: IEC 60038}
  test-drive: {ask: Does it happen on the road?, place: road, minutes: 15, outcomes: [yes, no], healthy: no, mistake: 5,
    source: common practice}
causes:
  contact: {name: burnt contact, where: inlet, shows: {cover-resistance: {low: 90, normal: 10}},
    correction: {do: Replace the inlet., how: [Unbolt it., Fit the new one.], minutes: 30,
      parts: [{name: inlet, price: 100}], needs: {power: dead, open: [cover]}},
    proof: {charge: ac, minutes: 30, attended: 5, watch: [inlet_temperature]}}
  sensor: {name: broken sensor, where: inlet, shows: {sensor-ratio: {high: 95, normal: 5}},
    correction: {do: Replace the sensor., minutes: 20, needs: {power: any, open: [seal]}},
    proof: {charge: ac, minutes: 20}}
  point: {name: charge point, where: outside,
    shows: {desk-question: {yes: 95, no: 5}, live-voltage: {low: 60, normal: 40}},
    advise: {do: Have the charge point checked., minutes: 10}}
  chassis: {name: loose bracket, where: wiring, shows: {test-drive: {yes: 90, no: 10}},
    correction: {do: Fix the bracket., minutes: 10, needs: {power: live}}, proof: {charge: ac, minutes: 10}}
access:
  undertray: {name: undertray, open: 8, close: 9}
  seat: {name: rear seat, open: 20, close: 15, mind: [Seat airbag connectors.]}
  cover: {name: charger cover, after: [seat], open: 5, close: 8, power: dead}
  seal: {name: inlet seal, open: 4, close: 3, refit-before-live: true}
procedures:
  make-safe:
    minutes: 25
    needs: {open: [undertray]}
    steps:
      - {kind: unplug}
      - {kind: switch-off}
      - {kind: disconnect}
      - {kind: secure, do: Lock the key away. Who holds it?}
      - {kind: wait, minutes: vehicle.safety.wait}
      - {kind: prove-tester}
      - {kind: absence, between: [DC+ and DC-, DC+ and chassis, DC- and chassis], below: vehicle.safety.dead_below}
      - {kind: prove-tester}
  re-energise: {minutes: 10, steps: [{kind: reconnect, do: Reconnect.}, {kind: switch-on, do: Switch on.}]}
  hand-back: {minutes: 10, steps: [{kind: codes, do: Read the codes.}, {kind: charge, do: Charge for a minute.}]}
""",
    "first.yaml": """\
diagtree: 1
tree: first
title: First complaint
revision: 1
causes: {contact: 40, sensor: 20, point: 25, chassis: 10, something-else: 5}
start: danger-look
steps:
  danger-look: {then: {yes: {refer: the fire service}, no: desk-question}}
  desk-question: {then: {yes: {conclude: point}, no: cover-resistance, not-done: live-voltage}}
  cover-resistance: {then: {low: {conclude: contact}, normal: sensor-ratio, high: {hand-over: second}}}
  sensor-ratio: {then: {low: live-voltage, normal: live-voltage, high: {conclude: sensor}}}
  live-voltage: {then: {low: {conclude: point}, normal: test-drive}}
  test-drive: {then: {yes: {conclude: chassis}, no: {refer: a specialist}}}
""",
    "second.yaml": """\
diagtree: 1
tree: second
title: Second complaint
revision: 1
causes: {sensor: 50, contact: 50}
start: desk-question
steps:
  desk-question: {then: {yes: cover-resistance, no: cover-resistance}}
  cover-resistance: {then: {low: {conclude: contact}, normal: {conclude: sensor}, high: sensor-ratio}}
  sensor-ratio: {then: {low: {conclude: contact}, normal: {conclude: contact}, high: {conclude: sensor}}}
""",
}

WITH_TRIAGE = {
    **TEXTS,
    "first.yaml": TEXTS["first.yaml"].replace("revision: 1\n", "revision: 1\nhears: [it stops]\n", 1),
    "triage.yaml": """\
diagtree: 1
tree: triage
title: Which complaint is it?
revision: 1
causes: {sensor: 50, point: 50}
start: desk-question
steps:
  desk-question:
    then: {yes: {hand-over: first}, no: {hand-over: second}}
""",
}
"""The same with a desk, where the owner's words are taken to one of its two complaints."""
