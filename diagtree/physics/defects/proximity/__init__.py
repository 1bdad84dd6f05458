"""The single defects of the proximity circuit, one a file; each defines DEFECT."""
