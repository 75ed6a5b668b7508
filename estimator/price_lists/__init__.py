"""A merchant's own price list, held against the price book: read, understood row by row, shown."""
