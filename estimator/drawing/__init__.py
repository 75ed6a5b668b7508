"""A drawing (DXF) read into floors walked round their sides, wall runs and openings."""
