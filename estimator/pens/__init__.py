"""Drawings: which columns are their lines and words, drawn in the workbook or in a file of their own."""
