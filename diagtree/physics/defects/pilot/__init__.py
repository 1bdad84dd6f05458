"""The single defects of the control pilot, one a file; each defines DEFECT."""
