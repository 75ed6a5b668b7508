"""The functions as LibreOffice Calc calls them. Runs inside LibreOffice, in its own Python.

Calc hands over numbers, texts, tuples of rows for areas, None for what was left out; it gets rows
back. A true error value is a number that is none, with the error's code in it. Should what is
carried beside not load (LibreOffice's own Python may be too old), every function is an error and
DAMP_WHY says which.
"""

import importlib
import struct

import unohelper
from com.sun.star.lang import XServiceInfo, XServiceName
from damp.calc import XDamp

CORE = "damp_functions_core"
SERVICE = "DAMP"
SERVICES = ("com.sun.star.sheet.AddIn", SERVICE)
IMPLEMENTATION = "damp.calc.Functions"
WRONG, UNSTATED = 519, 32767  # shown as #VALUE! and #N/A

try:
    _functions = importlib.import_module(CORE + ".functions")
    _version = importlib.import_module(CORE).__version__
    _failure = ""
except Exception as error:  # whatever it is, the functions must say so, and Calc must start
    _functions, _version = None, ""
    _failure = f"The damp-proofing functions could not be loaded: {type(error).__name__}: {error}"


def _error_value(code):
    return struct.unpack("<d", struct.pack("<Q", 0x7FF8000000000000 | code))[0]


_WRONG, _UNSTATED = _error_value(WRONG), _error_value(UNSTATED)


def _in_cell(found):
    if isinstance(found, str):
        return found
    if isinstance(found, (int, float)):
        return float(found)
    return _UNSTATED if found.unstated else _WRONG


def _rows(found, in_cell):
    if isinstance(found, list):
        return tuple((in_cell(f),) for f in found)
    return ((in_cell(found),),)


def _single(found, in_cell):
    return _WRONG if isinstance(found, list) else in_cell(found)


def _method(function):
    """What Calc calls: it gives rows, but for a text, which would be equal to nothing there."""
    call = _functions.call_from_cell
    given, wrong = (_single, _WRONG) if function.unit.text else (_rows, ((_WRONG,),))

    def method(self, *cells):
        try:
            return given(call(function, *cells), _in_cell)
        except Exception:  # a defect of ours must look like an error, not like a figure
            return wrong

    return method


class Functions(unohelper.Base, XDamp, XServiceInfo, XServiceName):
    """One method for each function; those of the register are put in below."""

    def __init__(self, context):
        pass

    def __getattr__(self, name):
        if _failure and name.isupper():
            return lambda *cells: ((_WRONG,),)
        raise AttributeError(name)

    def WHY(self, functionName, given):  # noqa: N802, N803  as the interface names them
        """For each answer why there is no figure; an empty text where there is one."""
        if _failure:
            return ((_failure,),)
        try:
            return _rows(_why(functionName, given), str)
        except Exception as error:
            return ((f"{functionName} failed: {type(error).__name__}: {error}",),)

    def INSTALLED(self):  # noqa: N802
        """That the functions are there, and which."""
        if _failure:
            raise RuntimeError(_failure)
        return f"Damp-proofing functions {_version}"

    def getServiceName(self):  # noqa: N802
        """The name before the dot of every function as files keep it."""
        return SERVICE

    def getImplementationName(self):  # noqa: N802
        """The name of this implementation."""
        return IMPLEMENTATION

    def supportsService(self, name):  # noqa: N802
        """Whether it is an add-in, or this one."""
        return name in SERVICES

    def getSupportedServiceNames(self):  # noqa: N802
        """That it is an add-in, and this one."""
        return SERVICES


def _why(name, given):
    while isinstance(name, tuple):
        name = name[0] if name else ""
    wanted = str(name or "").strip().upper().replace("DAMP.", "DAMP_")
    if not wanted.startswith(_functions.PREFIX):
        wanted = _functions.PREFIX + wanted
    function = _functions.FUNCTIONS.get(wanted)
    if function is None:
        return f"found {name or 'no name'}; accepted: a function's name, in quotation marks, first"
    left_out = (None,) * (len(function.arguments) - len(given))
    found = _functions.why(function, *given, *left_out)
    if function.unit.text and isinstance(found, list):
        return f"{function.name}: it gives a text, and takes one cell for each argument"
    return found


if _functions is not None:
    for _function in _functions.FUNCTIONS.values():
        setattr(Functions, _function.method, _method(_function))

g_ImplementationHelper = unohelper.ImplementationHelper()  # noqa: N816  the loader looks for it
g_ImplementationHelper.addImplementation(Functions, IMPLEMENTATION, SERVICES)
