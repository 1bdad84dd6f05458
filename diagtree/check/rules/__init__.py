"""The rules, one a file, each with a constant RULE."""
