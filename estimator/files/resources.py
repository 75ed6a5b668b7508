"""Where the files that travel with the package are: the templates and the demo jobs."""

from pathlib import Path

_INSTALLED = Path(__file__).parent.parent / "workbook_templates"
_IN_REPOSITORY = Path(__file__).parent.parent.parent / "workbook_templates"
_PAGES_INSTALLED = Path(__file__).parent.parent / "docs"
_PAGES_IN_REPOSITORY = Path(__file__).parent.parent.parent / "docs"


def shipped(*parts: str) -> Path:
    """The path of a shipped file, from a wheel or from a checkout."""
    folder = _INSTALLED if _INSTALLED.is_dir() else _IN_REPOSITORY
    return folder.joinpath(*parts)


def licence() -> bytes:
    """The licence of this program, which travels with what carries its code."""
    installed = Path(__file__).parent.parent / "LICENSE"
    return (installed if installed.is_file() else installed.parent.parent / "LICENSE").read_bytes()


def pages() -> dict[str, Path]:
    """The pages of docs/ by their names without the ending, from a wheel or from a checkout."""
    folder = _PAGES_INSTALLED if _PAGES_INSTALLED.is_dir() else _PAGES_IN_REPOSITORY
    return {path.stem: path for path in sorted(folder.glob("*.md"))}


LETTERS = shipped("letters")
REQUEST_TEMPLATE = shipped("price_request.xlsx")
JOB_TEMPLATE = shipped("job.xlsx")
CLIENT_TEMPLATE = shipped("client_quote.xlsx")
ORDER_TEMPLATE = shipped("order_list.xlsx")
SITE_TEMPLATE = shipped("site_sheet.xlsx")
BILL_TEMPLATE = shipped("bill_of_quantities.xlsx")
BILL_TO_PRICE_TEMPLATE = shipped("bill_to_price.xlsx")
STARTER_PRICES = shipped("starter_prices.csv")
DEMO_JOB = shipped("demo", "garden_room.toml")
DEMO_FORM = shipped("demo", "lean_to.toml")
DEMO_WALKED = shipped("demo", "wrap_round.toml")
DEMOS = {"garden room": DEMO_JOB, "lean-to": DEMO_FORM, "wrap-round": DEMO_WALKED}
