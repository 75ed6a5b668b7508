"""The file of a workbook as a package of parts (ISO/IEC 29500-2): opened safely, read, patched."""
