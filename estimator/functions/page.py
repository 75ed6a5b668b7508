"""docs/functions.md, made from the register. Each example there is executed in Calc by the tests."""

from typing import Any

from . import FUNCTIONS
from .arguments import Argument
from .guidance import labels
from .registry import Function

_HEAD = """# Functions for your own sheet

{made}The rules of the workbook as functions of a spreadsheet program. `docs/install-calc.md` puts
them into LibreOffice Calc (7.4 on Debian 12 was tested, nothing else). `docs/install-names.md` gives
them as names of a workbook, with nothing installed, to programs that know LAMBDA. They only call
the rules of `docs/rules.md`, so they and the workbook say the same. Quantities follow the guidance you choose:
they are not a design, and building control and a competent designer decide.

Arguments have one order everywhere: what is measured, then sizes, then how it is made or bought,
then the guidance. Lengths are in metres, details in millimetres. The unit is beside each argument's
name.

## Whose guidance

A function that needs guidance always takes it as the last argument, `basis`. There is no default.
Name it as the list of the workbook does, or by its key, in capitals or not (`docs/bases.md` has every
value with its source):

{bases}
Where it states no figure the function gives `#N/A`. You may add figures of your own after the name.
They replace those of the guidance: `"NHBC Standards (2024); weep_from_end=225; tray_build_in=100"`.

## What a cell may hold

| in the cell | what happens |
|---|---|
| a number | read as it is shown, to 15 figures. Outside the limits below, or not whole where it counts things, it gives `#VALUE!` |
| a percentage | Calc keeps 5 % as 0.05, and hands over 0.05: type 5 into a cell that is not shown as a percentage |
| a text instead of a number, also `12` typed as text | `#VALUE!` |
| a blank | `#VALUE!`. Calc hands a single blank cell over as 0. Where 0 is allowed ("0 for none", levels) the blank therefore counts as 0. In a column a blank is a blank and never 0 |
| TRUE, FALSE, a date | Calc hands them over as numbers, 1, 0 and the day's number: read as such |
| an error of another cell | that error; in a column the whole column shows `Err:504` |
| too few arguments, or too many | `Err:504`: give all of them. `DAMP_WHY` names the missing one |

A whole column in one call gives a column, one row for each row: choose the cells, type the
formula, and press Ctrl+Shift+Enter. After Enter alone the cell shows only the first row. A single
value counts for every row. Rows below the last filled one that are blank in every column given are
spare and stay empty (past 10,000 of them they show `#N/A`). A size forgotten in the last row thus
looks like a spare row: make a total stop while a row has a number and no figure, as the sample does. A blank between filled rows is an error in its row. The column of a
whole sheet, `A:A`, works but takes about a second. Name the rows instead. An area across several
sheets is read on its first sheet only. Do not put a function round one cell of a column inside SUMPRODUCT: give it the
column.

`#VALUE!` and `#N/A` are true errors: SUM and SUMPRODUCT over them are errors too, and never come
out low. SUMIF with a condition on the figures themselves, COUNT, and AGGREGATE told to leave errors
out pass over them. A function that gives a text takes single cells. In LibreOffice 7.4 the empty text
of a spare row, and what `DAMP_WHY` says, equal no other text: test for an empty one with `LEN(A1)=0`.

`DAMP_WHY` says why there is no figure, with the same arguments:

```
=DAMP_WHY("DAMP_TRAY_STOP_END_COUNT"; 2.5)
trays: found 2.5; accepted: a whole number from 1 to 1000.
```

`=DAMP_INSTALLED()` gives the version. Where the extension is missing every function shows
`#NAME?`, or an old figure that was stored in the file. So keep this cell in each file of yours:

```
{canary}
```

In a file that Calc saves, `DAMP_WEEP_COUNT` is stored as `DAMP.WEEP_COUNT`. Calc finds both again.
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
    rules = ", ".join(f"`{r}`" for r in function.rules) or "none: figures of the guidance itself"
    read = ", ".join(f"`{a}`" for a in function.allowances)
    basis = f" From the guidance: {read}." if read else ""
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
