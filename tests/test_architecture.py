"""Imports run one way; the rules' language needs nothing but the standard library."""

import ast
import sys
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parent.parent / "estimator"

# Each room, and the rooms it may look into.
MAY_IMPORT = {
    "rules": set(),
    "errors": set(),
    "whereabouts": set(),
    "spelling": set(),
    "strict": set(),
    "opening": {"errors"},
    "takeoff": {"rules"},
    "buying": {"rules"},
    "quote": {"rules"},
    "vat": {"rules"},
    "form": {"rules"},
    "work": {"rules"},
    "issued": {"rules"},
    "scope": {"rules"},
    "site": {"rules", "errors", "buying", "strict"},
    "measures": {"rules", "takeoff", "buying"},
    "checks": {"rules"},
    "figures_read": {"rules", "takeoff", "buying", "measures"},
    "guards": {"rules", "form", "takeoff", "quote", "vat", "work", "site"},
    "basis": {"rules", "errors", "opening", "strict"},
    "allowances": {"rules", "basis"},
    "places": {"rules"},
    "functions": {"rules", "errors", "takeoff", "buying", "quote", "vat", "basis"},
    "addin": {"", "functions", "basis", "rules"},
    "excel": {"", "functions", "errors", "addin"},
    "plan": {
        *("rules", "basis", "allowances", "takeoff", "buying", "quote", "vat", "checks", "guards"),
        *("measures", "form", "work", "scope", "site", "issued", "places"),
        "figures_read",
    },
    "job": {
        *("rules", "errors", "basis", "form", "takeoff", "buying", "checks", "vat", "work"),
        *("plan", "spelling"),
    },
    "job_checks": {
        *("rules", "errors", "basis", "form", "takeoff", "buying", "checks", "vat", "work"),
        *("plan", "job", "whereabouts", "spelling"),
    },
    "job_file": {
        *("rules", "errors", "form", "buying", "plan", "job", "job_checks", "estimate"),
        *("whereabouts", "opening", "spelling", "places"),
    },
    "estimate": {
        *("rules", "allowances", "takeoff", "buying", "guards", "plan", "job", "checks", "quote"),
        *("errors", "form", "site", "places", "whereabouts"),
    },
    "usual": {"buying"},
    "api": {"", "rules", "basis", "errors", "estimate", "job", "job_file", "plan", "returned"},
    "by_hand": {"rules", "errors", "basis", "form", "job", "plan"},
    "revisions": {
        "usual",
        *("rules", "errors", "form", "buying", "issued", "job", "plan", "reports"),
    },
    "changes": {
        *("rules", "basis", "buying", "checks", "form", "issued", "job", "plan", "reports"),
        *("revisions", "usual", "levels"),
    },
    "resources": set(),
    "levels": set(),
    "start": {"", "cli"},
    "mail": {"errors", "opening"},
    "job_writing": {"rules", "form", "job", "places", "plan"},
    "asking": {"rules", "form", "job", "opening", "plan"},
    "workbook": {
        *("", "checks", "rules", "errors", "form", "buying", "estimate", "guards", "places", "plan"),
        *("package", "spelling"),
    },
    "package": {"errors", "opening"},
    "returned": {
        *("usual", "issued", "spelling"),
        *("rules", "errors", "buying", "form", "takeoff", "places", "plan", "estimate", "job"),
        *("", "job_checks", "package", "workbook", "resources", "basis", "checks"),
    },
    "price_requests": {
        *("errors", "rules", "buying", "job", "job_checks", "estimate", "package", "workbook"),
    },
    "reports": {"rules", "checks", "estimate", "guards", "job", "plan"},
    "issuing": {
        *("", "errors", "rules", "quote", "vat", "job", "plan", "estimate", "reports", "resources"),
        *("workbook", "changes", "package"),
    },
    "reference": {"job_file", "places", "cli", "start", "site", "form", "functions", "buying", "rules", "basis", "plan"},
    "commands": {
        *("", "errors", "rules", "estimate", "job", "job_file", "plan", "reports", "resources"),
        *("workbook", "asking", "allowances", "job_writing", "returned", "package", "mail"),
        "changes",
        "checks",
        *("buying", "places"),
        *("price_requests", "addin", "excel", "issuing", "issued", "revisions"),
    },
    "cli": {"", "commands", "levels", "resources", "start"},
}  # fmt: skip
OUTSIDE = {
    "workbook": {"openpyxl"},
    "package": {"openpyxl", "lxml"},
    "returned": {"openpyxl"},
    "price_requests": {"openpyxl"},
    "mail": {"pydantic"},
    "addin": {"openpyxl", "uno", "unohelper", "com", "damp"},
    "excel": {"openpyxl", "xlwings"},
    "issuing": {"openpyxl", "PIL"},
    "commands": {"click"},
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
    """A newcomer reads a module in one sitting; the template's drawing is one long list."""
    limit = 400
    assert len(path.read_text("utf-8").splitlines()) <= limit
