"""Draws the template of the workbook, which anyone may then restyle."""
