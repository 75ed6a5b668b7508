"""Binds the functions in a workbook that was not saved by Calc. Runs inside LibreOffice.

A file written for another program calls DAMP_WEEP_COUNT; LibreOffice 7.4 looks only for
DAMP.WEEP_COUNT when it loads one, and shows #NAME?. To add a name to the workbook makes it look
again, and by the name people type; the name is taken away at once.
"""

import unohelper
from com.sun.star.lang import XServiceInfo
from com.sun.star.table import CellAddress
from com.sun.star.task import XJob

JOB = "damp.calc.Rebind"
SPREADSHEET = "com.sun.star.sheet.SpreadsheetDocument"
NAME = "damp_rebinding"


class Rebind(unohelper.Base, XJob, XServiceInfo):
    """Run by LibreOffice whenever a document has been loaded."""

    def __init__(self, context):
        pass

    def execute(self, arguments):
        """Make a loaded workbook look for its functions again; it counts as unchanged."""
        about = {v.Name: v.Value for a in arguments if a.Name == "Environment" for v in a.Value}
        document = about.get("Model")
        if document is None or not document.supportsService(SPREADSHEET):
            return
        changed = document.isModified()
        names = document.NamedRanges
        if not names.hasByName(NAME):
            document.UndoManager.lock()  # or Undo would offer to take back what nobody did
            try:
                names.addNewByName(NAME, "$A$1", CellAddress(0, 0, 0), 0)
                names.removeByName(NAME)
            finally:
                document.UndoManager.unlock()
        document.setModified(changed)

    def getImplementationName(self):  # noqa: N802
        """The name of this implementation."""
        return JOB

    def supportsService(self, name):  # noqa: N802
        """Whether it is this job."""
        return name == JOB

    def getSupportedServiceNames(self):  # noqa: N802
        """This job."""
        return (JOB,)


g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816  the loader looks for it
g_ImplementationHelper.addImplementation(Rebind, JOB, (JOB,))
