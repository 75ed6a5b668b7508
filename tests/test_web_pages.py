"""The pages for a browser: whole, in order, and nothing in them is loaded from elsewhere."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import unquote, urlsplit

import pytest
from lxml import html

from . import web_pages

ROOT = Path(__file__).parent.parent
LOADED = ("src", "srcset", "data", "poster", "background", "action", "formaction")


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """All pages and drawings; the sheets are printed in the long run only."""
    out = tmp_path_factory.mktemp("web") / "pages"
    web_pages.write(out)
    return out


@pytest.fixture(scope="module")
def read(written: Path) -> dict[str, html.HtmlElement]:
    return {p.name: html.fromstring(p.read_text("utf-8")) for p in sorted(written.glob("*.html"))}


def test_every_page_has_one_place_in_the_order() -> None:
    placed = [name for names in web_pages.ORDER.values() for name in names.split()]
    made = {"index", "commands", "sheets", "drawings", "developers", "subjects"}
    assert sorted(placed) == sorted({p.stem for p in (ROOT / "docs").glob("*.md")} | made)


def test_the_front_page_is_the_readme_with_a_picture(read: dict[str, html.HtmlElement]) -> None:
    readme = (ROOT / "README.md").read_text("utf-8")
    main = read["index.html"].find(".//main")
    first = re.sub(r"\s+", " ", readme.split("\n\n")[1])
    assert main.find("p").text_content() == first
    commands = [c.strip() for c in re.findall(r"^```sh\n(.*?)^```", readme, re.M | re.S)]
    assert [p.text_content().strip() for p in main.iter("pre")] == commands
    assert len(commands) == 2
    (picture,) = main.iter("img")
    assert picture.get("src").endswith(".svg")


def resources(page: html.HtmlElement) -> Iterator[str]:
    """What a browser loads by itself when it shows a page."""
    for element in page.iter():
        if isinstance(element.tag, str):
            yield from (element.get(name) for name in LOADED if element.get(name))
            yield from re.findall(r"url\(['\"]?([^)'\"]+)", element.get("style", ""))
    yield from (link.get("href") for link in page.iter("link"))


def test_nothing_is_loaded_from_elsewhere(written: Path, read: dict[str, html.HtmlElement]) -> None:
    loaded = {(name, one) for name, page in read.items() for one in resources(page)}
    assert len(loaded) > len(read), "each has a stylesheet, and there are pictures"
    assert [f for f in loaded if not (written / unquote(urlsplit(f[1]).path)).is_file()
            or urlsplit(f[1]).netloc] == []  # fmt: skip
    assert not any(page.find(".//script") is not None for page in read.values())
    for path in written.rglob("*.css"):
        assert not re.search(r"@import|url\(|//", re.sub(r"/\*.*?\*/", "", path.read_text("utf-8")))
    for path in written.rglob("*.svg"):
        assert not re.search(
            r"(?:href|src)=[\"']?(?!#)|@import|url\((?!#)", path.read_text("utf-8")
        )
    kinds = {p.suffix for p in written.rglob("*") if p.is_file()}
    assert kinds - {".png"} == {".html", ".css", ".svg", ".json"}


def test_every_link_leads_to_a_page_and_a_place_in_it(read: dict[str, html.HtmlElement]) -> None:
    places = {
        name: {e.get("id") for e in page.iter() if e.get("id")} for name, page in read.items()
    }
    lost, followed = [], 0
    for name, page in read.items():
        for link in page.iter("a"):
            to = urlsplit(link.get("href", ""))
            if to.netloc or link.find("img") is not None:
                continue
            followed += 1
            target = to.path or name
            if target not in places or (to.fragment and to.fragment not in places[target]):
                lost.append((name, link.get("href")))
    assert lost == []
    assert followed > 500


def test_every_heading_is_a_subject_in_the_order_of_the_alphabet(
    read: dict[str, html.HtmlElement],
) -> None:
    """Headings as a browser shows them; that each link leads to its place is tested above."""
    page = read["subjects.html"].find(".//main")
    listed = [(a.get("href").partition("#")[0], a.text_content()) for a in page.findall(".//li/a")]
    wanted = [
        (name, " ".join(h.text_content().split()))
        for name, other in read.items()
        if name not in ("subjects.html", "changelog.html", "sheets.html", "drawings.html")
        for h in other.find(".//main").iter("h2", "h3")
    ]
    assert sorted(listed) == sorted(wanted)
    assert len(listed) > 200
    words = [re.sub(r"^(?:\W+|(?:an?|the) )", "", said.casefold()) for _, said in listed]
    assert words == sorted(words)
    assert "bill of quantities" in words  # the heading has an article before it
    letters = [h.text_content() for h in page.iter("h2")]
    assert letters == sorted({w[0].upper() for w in words})


def test_no_page_named_in_the_text_is_left_without_its_link(
    read: dict[str, html.HtmlElement],
) -> None:
    left = {(n, code.text_content()) for n, page in read.items() for code in page.iter("code")
            if code.getparent().tag != "pre" and re.fullmatch(r"docs/[\w-]+\.md", code.text_content())}  # fmt: skip
    assert left == set()


def test_no_option_is_broken_over_two_lines(read: dict[str, html.HtmlElement]) -> None:
    whole = [s.text_content() for s in read["commands.html"].iter("span")]
    assert {"--out", "--dry-run"} <= set(whole)
    assert "estimator new --from EARLIER.xlsx MINE.xlsx" in {
        code.text_content() for code in read["commands.html"].iter("code")
    }


def test_every_drawing_of_the_demo_is_shown(
    written: Path, read: dict[str, html.HtmlElement]
) -> None:
    shown = {picture.get("src") for picture in read["drawings.html"].iter("img")}
    assert shown == {f"pictures/{p.name}" for p in (written / "pictures").glob("*.svg")}
    kinds = {re.sub(r".*-", "", name) for name in shown}
    assert kinds == {
        "plan.svg",
        "section.svg",
        "sheet.svg",
        "elevation.svg",
        "roof.svg",
        "cutting.svg",
        "in.svg",  # of a tray cut in
    }


def test_every_sheet_of_the_demo_is_shown(read: dict[str, html.HtmlElement]) -> None:
    if any(shutil.which(p) is None for p in ("soffice", "pdftoppm", "pdftotext")):
        pytest.skip("LibreOffice or poppler-utils is not installed")
    headings = [h.text_content() for h in read["sheets.html"].find(".//main").iter("h2")]
    assert len(headings) == 10, "README: the workbook shows ten sheets"
    assert headings[0] == "Start"
    assert len(list(read["sheets.html"].iter("img"))) == 10


def test_a_link_that_leads_nowhere_ends_it(tmp_path: Path) -> None:
    source = tmp_path / "pages"
    source.mkdir()
    (source / "index.md").write_text("# One\n\nSee [two](two.md).\n", "utf-8")
    with pytest.raises(SystemExit, match=r"two\.md"):
        web_pages.build(source, tmp_path / "out")
    (source / "index.md").write_text("# One\n\nSee [here](#one).\n", "utf-8")
    web_pages.build(source, tmp_path / "out")
    assert (tmp_path / "out" / "index.html").is_file()


def test_a_folder_that_holds_something_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "mine.txt").write_text("mine", "utf-8")
    with pytest.raises(SystemExit, match="accepted: a new or an empty folder"):
        web_pages.write(tmp_path)
    assert [p.name for p in tmp_path.iterdir()] == ["mine.txt"]
