"""xlwings' own Windows code, given our functions: run in a process of its own, says what came out.

Stand-ins only supply the names of Windows modules (windows_stand_in.py). What is exercised is
xlwings' code that writes Visual Basic, sets help texts and converts arguments and results.
Excel is not involved. Prints JSON.
"""

import datetime
import json
import sys
from decimal import Decimal
from pathlib import Path
from types import SimpleNamespace

sys.path.insert(0, str(Path(__file__).parent))

from windows_stand_in import MISSING, XL_ERR, FakeRange, com_error, install

udfs, com = install()
import xlwings  # noqa: E402

from estimator.functions import FUNCTIONS  # noqa: E402

xlwings.func, xlwings.arg = udfs.xlfunc, udfs.xlarg  # as on Windows
from estimator.hosts.excel import udfs as ours  # noqa: E402

MODULE = "estimator.hosts.excel.udfs"
NEWER = {  # errors that xlwings does not know and hands on as whole numbers
    "#GETTING_DATA": -2146826245,
    "#SPILL!": -2146826243,
    "#CONNECT!": -2146826242,
    "#BLOCKED!": -2146826241,
    "#UNKNOWN!": -2146826240,
    "#FIELD!": -2146826239,
    "#CALC!": -2146826238,
}
KINDS = {
    "blank": None,
    "empty text": "",
    "text": "abc",
    "number as text": "12",
    "true": True,
    "date": datetime.datetime(2026, 3, 1),
    **XL_ERR,
    **NEWER,
    "message": "Check: width: found nothing; accepted: a number.",
}


class Components:
    """Where the workbook keeps its modules; remembers what was imported."""

    def __init__(self):
        self.text = ""

    def __call__(self, name):
        raise com_error(name)

    def Remove(self, component):
        raise AssertionError(component)

    def Import(self, path):
        self.text = Path(path).read_text()


def imported():
    """As the workbook's own macro does it: the Visual Basic that is written, and the help."""
    helped = {}
    parts = Components()

    def options(name, **more):
        helped[name] = [more["Description"], more["ArgumentDescriptions"], more["Category"]]

    book = SimpleNamespace(
        Name="job.xlsm",
        VBProject=SimpleNamespace(VBComponents=parts),
        Application=SimpleNamespace(Version="16.0", MacroOptions=options),
        Worksheets=[],
    )
    udfs.import_udfs(MODULE, book)
    return parts.text, helped


def call(name, arguments):
    """As Excel calls it from a cell."""
    found = com.XLPython().CallUDF(MODULE, name, tuple(arguments), None, FakeRange(None))
    return (
        [list(row) if isinstance(row, tuple | list) else row for row in found]
        if isinstance(found, tuple | list)
        else found
    )


def column(*values):
    return FakeRange(tuple((v,) for v in values))


def answers():
    found = {}
    for function in FUNCTIONS.values():
        given, name = function.example.given, function.name
        wrong = {
            f"{kind}, {way}": [
                call(name, [give(value if n == place else v) for n, v in enumerate(given)])
                for place in range(len(given))
            ]
            for kind, value in KINDS.items()
            for way, give in (("in a cell", FakeRange), ("typed", lambda v: v))
        }
        wrong["left out, typed"] = [
            call(name, [MISSING if n == place else v for n, v in enumerate(given)])
            for place in range(len(given))
        ]
        spare = [column(v, v, None) for v in given]
        found[name] = {
            "typed": call(name, given),
            "cells": call(name, [FakeRange(v) for v in given]),
            "columns": call(name, spare),
            "one wrong": call(name, [column(given[0], "?"), *given[1:]]),
            "wrong": wrong,
        }
    found["money"] = call("DAMP_PACK_COST", [FakeRange(7), FakeRange(Decimal("18.35"))])
    found["shapes"] = {
        kind: call("DAMP_TRAY_STOP_END_COUNT", [given])
        for kind, given in {
            "1 x 1": FakeRange(((3,),)),
            "1 x N": FakeRange(((1, 2, 3),)),
            "N x 1": column(1, 2, 3),
            "N x M": FakeRange(((1, 2), (3, 4))),
            "1 x N typed": (1, 2, 3),  # a row between braces has one dimension
            "N x 1 typed": ((1,), (2,)),
            "nothing but blanks": column(None, "", None),
        }.items()
    }
    found["mixed column"] = call(
        "DAMP_TRAY_STOP_END_COUNT",
        [column(1, None, "", True, "x", *XL_ERR.values(), *NEWER.values(), KINDS["message"],
                Decimal("2.0000"), 2.5, KINDS["date"], 4, None)],
    )  # fmt: skip
    found["installed"] = call("DAMP_INSTALLED", [])
    return found


def main():
    vba, helped = imported()
    assert ours.DAMP_TRAY_STOP_END_COUNT.__xlfunc__["name"] == "DAMP_TRAY_STOP_END_COUNT"
    loaded = [m for m in sys.modules if m.startswith("xlwings.")]
    answer = {"vba": vba, "help": helped, "answers": answers(), "loaded": loaded}
    sys.stdout.write("\n" + json.dumps(answer))


main()
