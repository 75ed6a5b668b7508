"""Imports run one way; the rules' language needs nothing but the standard library."""

import ast
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "estimator"

# Each room, in the order in which one rests on another, and the rooms it may look into.
MAY_IMPORT = {
    "errors": set(),
    "language": set(),
    "files": {"errors"},
    "takeoff": {"language"},
    "drawn": {"language", "takeoff"},
    "buying": {"language"},
    "checks": {"language"},
    "guidance": {"language", "files", "errors", "buying"},
    "questionnaire": {"language"},
    "pricing": {"language", "takeoff", "buying", "guidance", "questionnaire"},
    "model": {
        *("errors", "language", "files", "takeoff", "buying", "checks", "guidance"),
        *("questionnaire", "pricing", "drawn"),
    },
    "pens": {"errors", "language", "drawn", "model"},
    "drawing": {"errors", "language", "files", "takeoff", "questionnaire", "model"},
    "functions": {
        *("errors", "language", "takeoff", "buying", "guidance", "pricing"),
    },
    "hosts": {"", "errors", "language", "files", "guidance", "functions"},
    "mail": {"errors", "files"},
    "revisions": {
        *("errors", "language", "buying", "checks", "guidance", "questionnaire", "model"),
    },
    "sourcing": {"errors", "language", "buying", "pricing", "model"},
    "workbook": {
        *("", "errors", "language", "files", "takeoff", "buying", "checks", "guidance"),
        *("questionnaire", "pricing", "model", "pens", "revisions", "drawn"),
    },
    "documents": {
        *("errors", "language", "files", "buying", "pricing", "model", "revisions", "pens"),
        "workbook",
    },
    "exports": {"", "errors", "language", "files", "buying", "pricing", "model", "documents"},
    "price_lists": {"errors", "language", "files", "takeoff", "buying", "model", "documents"},
    "used_on_site": {"errors", "language", "files", "model", "documents", "price_lists"},
    "cli": {
        *("", "errors", "language", "files", "buying", "checks", "questionnaire", "model", "hosts"),
        *("guidance", "drawing", "mail", "revisions", "sourcing", "workbook", "documents"),
        *("takeoff", "pens", "price_lists", "pricing", "exports"),
        "used_on_site",
    },
    "api": {"errors", "language", "guidance", "model", "workbook"},
    "reference": {
        *("language", "buying", "guidance", "questionnaire", "model", "functions", "exports"),
        *("files", "pens", "cli"),
    },
}
OUTSIDE = {
    "files": {"openpyxl", "lxml"},
    "guidance": {"pydantic"},
    "drawing": {"ezdxf"},
    "pens": {"ezdxf"},
    "mail": {"pydantic"},
    "hosts": {"openpyxl", "xlwings", "uno", "unohelper", "com", "damp"},
    "sourcing": {"highspy"},
    "workbook": {"openpyxl"},
    "documents": {"openpyxl", "PIL"},
    "price_lists": {"openpyxl", "python_calamine"},
    "cli": {"click"},
}

MODULES = sorted(PACKAGE.rglob("*.py"))


def room_of(path: Path) -> str:
    first = path.relative_to(PACKAGE).parts[0]
    return first.removesuffix(".py")


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_imports(path: Path) -> None:
    room = room_of(path)
    if room == "__init__":
        return
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.level:
            depth = len(path.relative_to(PACKAGE).parts) - node.level
            if depth > 0:
                continue  # within the room
            names = [node.module.split(".")[0]] if node.module else [a.name for a in node.names]
            for name in names:
                other = (
                    name if (PACKAGE / name).exists() or (PACKAGE / f"{name}.py").exists() else ""
                )
                assert other in MAY_IMPORT[room] | {room}, f"{room} imports {name}"
        elif isinstance(node, ast.ImportFrom | ast.Import):
            modules = (
                [node.module] if isinstance(node, ast.ImportFrom) else [a.name for a in node.names]
            )
            for module in modules:
                top = module.split(".")[0]
                assert top in sys.stdlib_module_names | OUTSIDE.get(room, set()), f"{room}: {top}"


def test_every_room_has_its_rule() -> None:
    assert {room_of(p) for p in MODULES} - {"__init__"} == set(MAY_IMPORT)


@pytest.mark.parametrize("path", MODULES, ids=lambda p: str(p.relative_to(PACKAGE)))
def test_modules_are_small(path: Path) -> None:
    """A newcomer reads a module in one sitting."""
    limit = 400
    assert len(path.read_text("utf-8").splitlines()) <= limit


def test_rooms_stand_in_order() -> None:
    """No room rests on one that is named after it."""
    order = list(MAY_IMPORT)
    for room, others in MAY_IMPORT.items():
        late = [o for o in others if o and order.index(o) >= order.index(room)]
        assert not late, f"{room} rests on {late}"
