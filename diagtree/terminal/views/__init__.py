"""Values of the core turned into blocks to show, one kind a file."""
