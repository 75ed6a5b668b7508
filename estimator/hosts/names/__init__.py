"""The functions as defined names of a workbook, each a native LAMBDA: nothing is installed."""
