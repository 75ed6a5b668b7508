"""docs/functions.md, made from the register. Each example there is executed in Calc by the tests."""

from typing import Any

from . import FUNCTIONS
from .arguments import Argument
from .guidance import labels
from .registry import Function

_HEAD = """# Functions for your own sheet

{made}The rules of the workbook as functions of a spreadsheet program. `docs/install-calc.md` puts
them into LibreOffice Calc (7.4 on Debian 12 was tested, nothing else); `docs/install-names.md` gives
them as names of a workbook, with nothing installed, to programs that know LAMBDA. They only call
the rules of `docs/rules.md`, so they and the workbook say the same. Quantities follow the guidance you choose:
they are not a design, and building control and a competent designer decide.

Arguments stand in one order everywhere: what is measured, then sizes, then how it is made or
bought, then the basis. Lengths are in metres, details in millimetres; the unit stands beside each
argument's name.

## Whose guidance

A function that needs guidance takes its basis as the last argument, always; there is no default
one. It is named as in the list of the workbook, or by its key, in capitals or not
(`docs/bases.md` has every value with its source):

{bases}
Where it states no figure the function gives `#N/A`. Figures of your own may stand after the name,
and take the place of the basis's: `"NHBC Standards (2024); weep_from_end=225; tray_build_in=100"`.

## What a cell may hold

| in the cell | what happens |
|---|---|
| a number | read as it is shown, to 15 figures; outside the limits below, or not whole where it counts, `#VALUE!` |
| a percentage | Calc keeps 5 % as 0.05, and hands over 0.05: type 5 into a cell that is not shown as a percentage |
| a text where a number is wanted, `12` typed as text too | `#VALUE!` |
| a blank | `#VALUE!`. Calc hands a single blank cell over as 0, so a blank cannot be told from 0 where 0 is a legal value ("0 for none"; levels): there it counts as 0. In a column a blank is a blank and never 0 |
| TRUE, FALSE, a date | Calc hands them over as numbers, 1, 0 and the day's number: read as such |
| an error of another cell | that error; in a column the whole column shows `Err:504` |
| too few arguments, or too many | `Err:504`: none may be left out; `DAMP_WHY` names the missing one |

A whole column in one call gives a column, one row for each row: choose the cells, type the
formula, and press Ctrl+Shift+Enter; after Enter alone the cell shows the first row and no other.
Single values stand beside every row. Rows that are blank in every column given, below the last
filled one, are spare and stay empty, so that a size forgotten in the last row is taken for a spare
row: let a total refuse while a row has a number and no figure, as the sample does (past 10,000
spare rows they show `#N/A`). A blank between filled rows is an error in its row. The column of a
whole sheet, `A:A`, works and takes about a second; name the rows instead. An area across several
sheets is read on its first sheet alone. Do not put a function round one cell of a column inside SUMPRODUCT: give it the
column.

`#VALUE!` and `#N/A` are true errors: SUM and SUMPRODUCT over them are errors too, and never come
out low. SUMIF with a condition on the figures themselves, COUNT, and AGGREGATE told to leave errors
out pass over them. A function that gives
a text takes single cells. The empty text of a spare row, and what `DAMP_WHY` says, come in rows, and
are equal to no other text in LibreOffice 7.4: ask for an empty one with `LEN(A1)=0`.

Why there is no figure says, with the same arguments:

```
=DAMP_WHY("DAMP_TRAY_STOP_END_COUNT"; 2.5)
trays: found 2.5; accepted: a whole number from 1 to 1000.
```

`=DAMP_INSTALLED()` gives the version. Where the extension is missing every function shows
`#NAME?`, or an old figure that was stored in the file; so keep this cell in each file of yours:

```
{canary}
```

In a file that Calc saves, `DAMP_WEEP_COUNT` is stored as `DAMP.WEEP_COUNT`; both are found again.
"""
# Looks for the beginning of what they say: in Excel a failure is a text too, not an error.
CANARY = (
    '=IF(NOW()>0; IF(ISERROR(SEARCH("Damp-proofing functions"; DAMP_INSTALLED())); '
    '"The functions are NOT installed"; "installed"); "")'
)


def functions_page(made: str) -> str:
    """The page: how cells are read, then every function by its group. `made` says it is made."""
    rows = "".join(f"| {label} | `{name}` |\n" for name, label in labels().items())
    bases = f"| name | key |\n|---|---|\n{rows}"
    parts = [_HEAD.format(made=made, bases=bases, canary=CANARY)]
    groups: dict[str, list[Function]] = {}
    for function in FUNCTIONS.values():
        groups.setdefault(function.group, []).append(function)
    for group, found in groups.items():
        parts.append(f"\n## {group}\n")
        parts += [_section(f) for f in found]
    return "".join(parts)


def call_as_typed(function: Function) -> str:
    """The example's formula as a person types it."""
    return f"={function.name}({'; '.join(_typed(v) for v in function.example.given)})"


def result_as_shown(function: Function) -> str:
    """The example's result."""
    found = function.example.gives
    sign = "" if function.unit.sign in ("", "nr") else f" {function.unit.sign}"
    return found if isinstance(found, str) else f"{found:.10g}{sign}"


def _typed(value: Any) -> str:
    return f'"{value}"' if isinstance(value, str) else f"{value:g}"


def _section(function: Function) -> str:
    unit = f" In {function.unit.sign}." if function.unit.sign else ""
    detail = f"\n\n{function.detail}" if function.detail else ""
    rows = "".join(_row(a) for a in function.arguments)
    rules = ", ".join(f"`{r}`" for r in function.rules) or "none: the basis's own data"
    read = ", ".join(f"`{a}`" for a in function.allowances)
    basis = f" From the basis: {read}." if read else ""
    return (
        f"\n### {function.name}\n\n{function.meaning}{unit}{detail}\n\n"
        f"| argument | what it is | accepted |\n| --- | --- | --- |\n{rows}\n"
        f"```\n{call_as_typed(function)}\n{result_as_shown(function)}\n```\n\n"
        f"By hand: {function.example.working}. Rules: {rules}.{basis}\n"
    )


def _row(argument: Argument) -> str:
    if argument.name == "basis":
        return "| basis | Whose guidance, and own figures. | as said above |\n"
    return f"| {argument.shown} | {argument.help} | {argument.accepted} |\n"
