"""Parts that can be faulty, one kind a file; `diagtree.physics.part` is their record."""
