"""The functions in Excel on Windows, by xlwings' open-source user-defined functions."""
