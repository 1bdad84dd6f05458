"""Which single defect of the control pilot or of the proximity circuit explains some readings, and with what value."""
