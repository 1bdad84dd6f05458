"""What can be measured on a car, one family of observables a file; `diagtree.physics.observable` is their record."""
