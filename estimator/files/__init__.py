"""Files: opened safely, kept safely, a workbook as a package of parts."""
