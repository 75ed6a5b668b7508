"""The workbook that comes back: found, read, held against what is worked out, refreshed."""
