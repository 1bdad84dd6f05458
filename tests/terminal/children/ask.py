"""Asks the sample prompts at this terminal and prints each answer: run by tests in a terminal of their own."""

from __future__ import annotations

import sys

from diagtree.terminal.interrupted import Interrupted
from tests.terminal import samples


def main() -> int:
    if "plain" in sys.argv:
        from diagtree.terminal.drivers.plain import driver as new
    else:
        from diagtree.terminal.drivers.person import driver as new
    driver = new()
    names = [name for name in sys.argv[1:] if name.isupper()] or ["LOOK", "YES_NO", "READING", "SECURE", "ABSENCE"]
    try:
        for name in names:
            print("ANSWER", driver.answer(getattr(samples, name), samples.scene()))
    except Interrupted:
        print("INTERRUPTED")
        return 130
    return 0


sys.exit(main())
