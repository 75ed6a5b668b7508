"""Stand-ins for pywin32 so that the REAL xlwings/udfs.py, _xlwindows.py and com_server.py import on Linux.

Nothing here computes: it only supplies names. What is exercised afterwards is xlwings' own code
(VBA text generation, argument and result conversion).  Excel itself is not involved.
"""

import ctypes
import datetime as dt
import sys
import types

RANGE_IID = "{00020846-0000-0000-C000-000000000046}"
MISSING = -2147352572  # DISP_E_PARAMNOTFOUND, what a skipped Optional Variant becomes
XL_ERR = {
    "#DIV/0!": -2146826281,
    "#N/A": -2146826246,
    "#NAME?": -2146826259,
    "#NULL!": -2146826288,
    "#NUM!": -2146826252,
    "#REF!": -2146826265,
    "#VALUE!": -2146826273,
}


def _mod(name, **attrs):
    m = types.ModuleType(name)
    m.__dict__.update(attrs)
    sys.modules[name] = m
    if "." in name:
        parent, _, child = name.rpartition(".")
        setattr(sys.modules[parent], child, m)
    return m


class com_error(Exception):
    hresult = -1


class _Dispatch:  # client-side wrappers: never called, only isinstance()
    def __init__(self, *a, **k):
        pass


class VARIANT:  # same shape as win32com.client.VARIANT
    def __init__(self, vt, value):
        self.varianttype, self.value = vt, value

    def __repr__(self):
        return f"VARIANT(VT_ERROR, {self.value})"


class FakeRange:
    """What pywin32 hands to CallUDF for a cell reference: IDispatch with Range's type id, and .Value."""

    class _Ole:
        class _TI:
            class _TA:
                iid = RANGE_IID

            def GetTypeAttr(self):
                return self._TA

            def GetDocumentation(self, i):
                return ("Range",)

        def GetTypeInfo(self):
            return self._TI()

    _oleobj_ = _Ole()

    def __init__(self, value):
        self.Value = value
        rows = value if isinstance(value, tuple) else ((value,),)
        ns = types.SimpleNamespace
        self.Rows, self.Columns, self.Row, self.Column = (
            ns(Count=len(rows)),
            ns(Count=len(rows[0])),
            1,
            1,
        )
        self.Count = len(rows) * len(rows[0])
        app = ns(Hwnd=0)
        self.Worksheet = ns(
            Name="Sheet1", Parent=ns(Name="Book.xlsm", Application=app, Worksheets=[])
        )


def install():
    noop = lambda *a, **k: None
    _mod("pywintypes", com_error=com_error, error=com_error, TimeType=dt.datetime, IID=lambda s: s)
    _mod(
        "pythoncom",
        CoInitialize=noop,
        IID_IDispatch="disp",
        IID_IEnumVARIANT="enum",
        VT_ERROR=10,
        TypeIIDs={"disp": type("PyIDispatch", (), {})},
        com_error=com_error,
        ole_error=com_error,
        __file__="x",
    )
    for n in ("win32api", "win32con", "win32event", "win32gui"):
        _mod(n)
    _mod("win32process", GetWindowThreadProcessId=lambda hwnd: (0, 0))
    _mod("win32timezone", TimeZoneInfo=type("TZ", (), {"utc": staticmethod(lambda: dt.UTC)}))
    _mod("win32com")
    _mod(
        "win32com.client",
        CDispatch=_Dispatch,
        CoClassBaseClass=_Dispatch,
        Dispatch=lambda o, *a, **k: o,
        DispatchEx=_Dispatch,
        DispatchBaseClass=_Dispatch,
        VARIANT=VARIANT,
    )
    _mod("win32com.server")
    _mod("win32com.server.dispatcher")
    _mod("win32com.server.policy", DefaultPolicy=object)

    def unwrap(o):
        raise TypeError("not a wrapped Python object")

    _mod("win32com.server.util", wrap=lambda o, *a, **k: o, unwrap=unwrap)
    any_dll = types.SimpleNamespace(
        ole32=types.SimpleNamespace(CLSIDFromString=noop),
        oleacc=types.SimpleNamespace(),
        user32=types.SimpleNamespace(),
        kernel32=types.SimpleNamespace(),
    )
    ctypes.oledll = ctypes.windll = any_dll
    real = ctypes.PyDLL
    ctypes.PyDLL = lambda path: types.SimpleNamespace(
        PyCom_PyObjectFromIUnknown=types.SimpleNamespace()
    )
    try:
        import xlwings
        from xlwings import _xlwindows, main  # the real Windows engine module

        if "excel" not in [e.name for e in xlwings.engines]:
            xlwings.engines.add(main.Engine(impl=_xlwindows.engine))
        xlwings._xlwindows = _xlwindows
        from xlwings import com_server, udfs
    finally:
        ctypes.PyDLL = real
    return udfs, com_server
