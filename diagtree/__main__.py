"""`python -m diagtree`, and the console script."""

from __future__ import annotations

import sys


def run() -> int:
    """Run the command line that the process was started with and return its exit status."""
    if sys.argv[1:] == ["--version"]:  # asked for by scripts in loops: nothing else is imported for it
        from diagtree import __version__

        sys.stdout.write(f"diagtree {__version__}\n")
        return 0
    from diagtree.terminal.main import main

    return main()


if __name__ == "__main__":
    sys.exit(run())
