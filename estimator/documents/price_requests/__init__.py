"""Asking suppliers for prices: a small workbook to each, and what comes back in it."""
