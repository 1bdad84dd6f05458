"""One quantity a file; each module defines QUANTITY, named after the module."""
