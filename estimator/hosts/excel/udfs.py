"""The module that Excel's workbook names: all functions, as xlwings finds them.

Only `func` and `arg` of xlwings are used. On anything but Windows they do nothing.
"""

import xlwings

from .publishing import publish

publish(globals(), xlwings.func, xlwings.arg)
