"""`python -m diagtree`, and the console script."""

from __future__ import annotations

import sys


def run() -> int:
    """Run the command line that the process was started with and return its exit status."""
    if sys.argv[1:] == ["--version"]:  # asked for by scripts in loops: nothing else is imported for it
        from diagtree import __version__

        sys.stdout.write(f"diagtree {__version__}\n")
        return 0
    import gc

    # Modules and knowledge are ten thousands of objects that stay: to look through them for rings of dead ones, again
    # and again while they are made, would be a fifth of the time to the first question.
    gc.set_threshold(50_000, 20, 20)
    from diagtree.terminal.main import main

    return main()


if __name__ == "__main__":
    sys.exit(run())
