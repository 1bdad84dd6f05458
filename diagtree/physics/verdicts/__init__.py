"""One verdict a file; each module defines VERDICT, named after the module."""
