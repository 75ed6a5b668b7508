"""The reference pages and the pictures in docs/, made so that they cannot go stale.

`python -m estimator.reference DOCS` writes them, and the kept pages of help; with `--check` it
only compares.
"""

import json
import sys
from collections.abc import Callable, Iterable
from functools import cache
from pathlib import Path
from typing import Any

from .buying.lines import FIRM, LINES
from .buying.materials import MATERIAL_ROWS, measures_of
from .cli.pages import help_pages
from .cli.start import HELP
from .exports.figures import schema as figures_schema
from .files.resources import DEMO_WALKED
from .functions.page import functions_page
from .guidance.basis import KEYS
from .guidance.notices import nations
from .language import Fixed, Input, Item, Linked, Offer, Table, Varied, Worked
from .language.formulas import Formulas, NamesOnly
from .language.ledger import Ledger
from .language.units import EACH
from .model.estimate import estimate
from .model.job_file import UNSAID, read_job
from .model.places import SCHEMA
from .model.plan import FILLED, PARTICULARS, bases, plan
from .pens.svg import as_svg
from .pens.views import ELEVATION, PLAN, SECTION, View
from .questionnaire.answers import INPUTS as FORM_INPUTS
from .questionnaire.assumed import ASSUMPTIONS

_MADE = "<!-- Made by `python -m estimator.reference docs`; do not edit by hand. -->\n\n"


def rules_page() -> str:
    """Every list and every rule: what it is, its unit, and the formula it becomes."""
    found = plan()
    formulas = Formulas(found, NamesOnly())
    parts = [
        "# Rules\n\n" + _MADE + "Each list of the workbook, column by column. *typed*: a person "
        "enters it. *set*: it comes with the program. *linked*: it is read from the row of another "
        "list. The rest is worked out by the formula shown. In a formula a plain name is a cell "
        "of the same row or a named cell, and `list.column` is a whole column, "
        "`own list.column` those of its rows that belong to the row at hand. Spare rows give 0.\n"
    ]
    for table in found.tables.values():
        parts.append(f"\n## {table.title}\n\nList `{table.name}`.\n\n")
        parts.append(_table(("Column", "Unit", "What it is", "How"), (
            (f"`{c.name}`", c.unit.sign, _meaning(c), _how(c, table, formulas)) for c in table
        )))  # fmt: skip
    parts.append("\n## Named cells\n\n")
    parts.append(_table(("Name", "Unit", "What it is", "How"), (
        (f"`{c.name}`", c.unit.sign, _meaning(c), _how(c, None, formulas))
        for c in found.cells.values()
    )))  # fmt: skip
    return "".join(parts)


def bases_page() -> str:
    """Every allowance, and what each basis says about it."""
    parts = [
        "# Guidance documents\n\n"
        + _MADE
        + "Whose guidance, value by value. *read*: seen in the document. "
        "*reported*: seen in a page that reports it. *memory*: known, but the clause was not "
        "looked up. Confirm it in the document. *not seen*: no clause on it was seen, so no figure "
        "is given here. The source names the edition that gives the value. Every job names "
        "its guidance. There is no default.\n"
    ]
    for basis in bases():
        document = basis.document
        parts.append(
            f"\n## {basis.name}\n\n{document.title}. {document.nation}. {document.binds}\n\n"
        )
        if document.regulatory:
            parts.append(
                f"On a site in {document.nation} its figures are printed as the regulatory ones, "
                f"with the name {document.named}. On any other site none are printed.\n\n"
            )
        parts.append(_table(("Allowance", "Key", "Value", "In our words", "Source", "Known how"), (
            (
                k.label,
                f"`{k.name}`",
                _stated(basis.values[k.name].value, k.unit.sign),
                basis.values[k.name].says,
                basis.citation(k.name),
                basis.values[k.name].standing,
            )
            for k in KEYS
        )))  # fmt: skip
    parts.append(
        "\n## Who is to be told\n\nThe notices of each nation at its hold points, and how each is "
        "known. The site sheet gives the source, and says to confirm it.\n\n"
    )
    parts.append(_table(("Nation", "Hold point", "Notice", "Source", "Known how"), (
        (n.name, point, told.notice, told.source, told.standing)
        for n in nations() for point, told in n.notices.items()
    )))  # fmt: skip
    return "".join(parts)


def job_file_page() -> str:
    """Every field of a job file and of a price file, and what it accepts."""
    names = {t.name: t for t in FILLED}
    book = names.pop("book")
    parts = [
        "# Job files\n\n" + _MADE + "A job file is TOML. `workbook_templates/demo/` holds a whole "
        "one. Names of lengths end in `_m` (metres) or `_mm` (millimetres).\n\n"
        "## [job]\n\n" + _fields(PARTICULARS),
        "\n## [form]\n\nThe answers of the one-page form. All may be left out. With a width and "
        "a projection the form fills rows in the lists below, with refs of its own (X...). To "
        "change such a row, give a row with its ref (`mark`): what you state there replaces what the "
        "form filled in.\n\n" + _fields(FORM_INPUTS),
        "\n## [assumed]\n\nFigures that the form assumes until you give them here.\n\n"
        + _table(
            ("Key", "What it is", "Until given", "Who says so"),
            (
                (f"`{a.key}`", a.label, f"{a.figure:g} {a.unit.sign}".strip(), a.says)
                for a in ASSUMPTIONS
            ),
        ),
    ]
    parts += [
        f"\n## [[{t.name}]]: {t.title.lower()}\n\n{_fields(t.inputs)}" for t in names.values()
    ]
    parts.append(
        "\nUnder a supplier, `[suppliers.wastage_percent]` gives its percentage for each material: "
        "a material's key and a number from 0 to 100. `[suppliers.material_discount_percent]` gives its trade "
        "discount on single materials in the same way. It replaces `discount_percent`, the supplier's "
        "own, there.\n"
        "\n## [allowances.override], [allowances.own]\n\n"
        "A key of `docs/bases.md` and a figure. An override replaces the guidance's figure. `own` "
        "is used only where the guidance states none.\n"
        "\n## [lines]\n\nA line of the quantities and the supplier it is bought from.\n"
        "\n## [line_status]\n\nA line of the quantities and its status: firm, provisional, excluded or by others. A "
        "line that is not named is firm, except these, which are by others: "
        + ", ".join(f"`{x.key}`" for x in LINES if x.status != FIRM)
        + ".\n"
        "\n## [reasons]\n\nA check (a key of `docs/rules.md`, Details and Products) and the reason to go on. The reason is printed, and "
        "the check no longer stops its lines.\n"
        "\n## [hold_points]\n\nA hold point, as the Site sheet names it, and your own words for who is told "
        "and when. They replace the nation's.\n"
        "\n## [wastage_applies]\n\nA material, and 1 or 0: whether the suppliers' wastage is added to it.\n"
        "\n## prices\n\nThe name of a CSV file beside the job file. Its first line names the "
        "columns:\n\n" + _fields(book.inputs) + "\nThe materials, and what a pack of each must "
        "state:\n\n"
        + _table(
            ("Material", "What it is", "Counted in", "A pack states"),
            (
                (
                    f"`{m['key']}`",
                    str(m["label"]),
                    str(m["unit"]),
                    ", ".join(measures_of(str(m["key"]))),
                )
                for m in MATERIAL_ROWS
            ),
        )
        + "\nThe width of a closer is that of the cavity it closes. The width of a collar or a duct is the pipe's.\n"
        "\n## layout\n\nThe layout the file is written for, a whole number at its top. This program "
        f"writes {SCHEMA}. You need not change a file of an earlier layout. Its fields keep their old "
        "names, a field that came later has its default, and a line that came later is excluded until "
        f"[line_status] names it. A file without a layout is read as layout {UNSAID}, the last before "
        "files said it.\n"
    )
    return "".join(parts)


def schema_page() -> str:
    """JSON Schema of a job file, from the same columns that check it."""
    names = [t for t in FILLED if t.name != "book"]
    percents = {"type": "object", "additionalProperties": {"type": "number", "minimum": 0}}
    lists: dict[str, Any] = {
        t.name: {"type": "array", "items": _object(t.inputs, t)} for t in names
    }
    for key in ("wastage_percent", "material_discount_percent"):
        lists["suppliers"]["items"]["properties"][key] = percents
    texts = {"type": "object", "additionalProperties": {"type": "string"}}
    figures = {
        "type": "object",
        "properties": {
            k.name: {"type": "number", "minimum": k.least, "maximum": k.most} for k in KEYS
        },
        "additionalProperties": False,
    }
    allowances = {"override": figures, "own": figures}
    schema = {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Job file",
        "type": "object",
        "properties": {
            "layout": {"type": "integer", "minimum": 1, "maximum": SCHEMA},
            "prices": {"type": "string"},
            "job": _object(PARTICULARS),
            "form": _object(FORM_INPUTS),
            "assumed": {
                "type": "object",
                "properties": {
                    a.key: {"type": "number", "minimum": a.least, "maximum": a.most}
                    for a in ASSUMPTIONS
                },
                "additionalProperties": False,
            },
            "allowances": {
                "type": "object", "properties": allowances, "additionalProperties": False
            },
            "lines": texts,
            "line_status": texts,
            "reasons": texts,
            "hold_points": texts,
            "wastage_applies": {"type": "object", "additionalProperties": {"enum": [0, 1]}},
            **lists,
        },
        "required": ["prices", "job", "suppliers"],
        "additionalProperties": False,
    }  # fmt: skip
    return json.dumps(schema, indent=1, ensure_ascii=False) + "\n"


def _object(inputs: Iterable[Input], table: Table | None = None) -> dict[str, Any]:
    items = list(inputs)
    offered = {i.name for i in items if table is not None and table.offers(i.name)}
    return {
        "type": "object",
        "properties": {i.key: _property(i) for i in items},
        "required": [i.key for i in items if i.required and i.name not in offered],
        "additionalProperties": False,
    }


def _property(item: Input) -> dict[str, Any]:
    found: dict[str, Any] = {"title": item.label}
    if item.help:
        found["description"] = item.help
    if item.choices:
        return found | {"enum": list(item.choices)}
    if item.unit.text:
        return found | {"type": "string"}
    if item.unit.dated:
        return found | {"type": "string", "format": "date"}
    kind = "integer" if item.unit is EACH else "number"
    return found | {"type": kind, "minimum": item.least, "maximum": item.most}


@cache
def _walked() -> Ledger:
    return estimate(read_job(DEMO_WALKED))


def _picture(view: View) -> Callable[[], str]:
    """A drawing of the first floor or wall of the invented wrap-round extension."""
    return lambda: as_svg(view, _walked()).decode()


PAGES: dict[str, Callable[[], str]] = {
    "rules.md": rules_page,
    "bases.md": bases_page,
    "job-file.md": job_file_page,
    "job-file.schema.json": schema_page,
    "figures.schema.json": lambda: json.dumps(figures_schema(), indent=1) + "\n",
    "functions.md": lambda: functions_page(_MADE),
    **{
        f"drawn-{n}.svg": _picture(v)
        for n, v in (("plan", PLAN), ("section", SECTION), ("elevation", ELEVATION))
    },
}


def _meaning(item: Item) -> str:
    return item.help or item.label


def _how(item: Item, table: Table | None, formulas: Formulas) -> str:
    match item:
        case Input():
            return f"typed: {item.accepted}"
        case Linked():
            return "linked"
        case Worked():
            text = formulas.bare(item, table)
            return f"`{text}`"
        case Varied():
            return "by another rule in each row"
        case Offer():
            offers = ((n, item.row(n)) for n in range(1, len(item.rules) + 1))
            return "; ".join(f"row {n}: `{formulas.bare(o, table)}`" for n, o in offers if o)
        case Fixed():
            return "set"
    return "counted by the sheet"


def _fields(inputs: Iterable[Input]) -> str:
    rows = (
        (f"`{i.key}`", i.label, i.accepted + ("" if i.required else " (may be left out)"), i.help)
        for i in inputs
    )
    return _table(("Field", "What it is", "Accepted", "Note"), rows)


def _stated(value: float | str, sign: str) -> str:
    return value if isinstance(value, str) else f"{value:g} {sign}".strip()


def _table(head: tuple[str, ...], rows: Iterable[tuple[str, ...]]) -> str:
    lines = [head, tuple("---" for _ in head), *rows]
    return "".join("| " + " | ".join(c.replace("|", "\\|") for c in r) + " |\n" for r in lines)


def main(folder: Path, check: bool) -> int:
    """Write the pages, or say which are stale."""
    stale = 0
    pages = {folder / name: make() for name, make in PAGES.items()}
    pages |= {Path(HELP, f"{name}.txt"): text for name, text in help_pages().items()}
    for path, text in pages.items():
        if check and (not path.exists() or path.read_text("utf-8") != text):
            print(f"{path} is stale: run python -m estimator.reference {folder}")
            stale = 1
        elif not check:
            path.write_text(text, "utf-8")
    return stale


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), "--check" in sys.argv[2:]))
