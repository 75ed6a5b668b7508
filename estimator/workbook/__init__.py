"""The workbook: the plan laid out in a template, with live formulas and the right figures."""
