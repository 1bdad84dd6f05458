"""The invented job that `demo` plays: an owner, a car, a fault, a repair. An answers file like any other."""

TREE = "ac-fails-dc-works"

ANSWERS = """\
vehicle: marlin-1
look: nothing
complaint: {words: Does nothing on the wall box at home. The rapid charger on the motorway is fine.}
answers:
  inlet-looks-burnt: no
  when-it-stops: never-starts
  charges-on-another-point: no
  timer-set: no
  workshop-point-workshop-cable: fails
  charging-codes: inlet-temperature
  inlet-temperature-readout: {readout: 180, rim: 18}
  inlet-connector-look: clean
  inlet-sensor-resistance: {resistance: OL, inlet_temperature: 18}
procedures:
  make-safe:
    secure: the technician keeps the key and the lock
    prove-tester: yes, 12 V battery, shows 12.6 V
    absence: [0.4, 0.1, 0.2]
notes:
  inlet-sensor-resistance: moved the [brown] lead while measuring, still OL
go-on: yes
correction: new inlet with short lead fitted, both clips renewed
proof:
  minutes: 45
  watched: 15
  power: 10.8
  cut_out: no
  inlet_temperature: 31 degC
  result: fixed
"""
