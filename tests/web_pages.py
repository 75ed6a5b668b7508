"""The documentation as pages for a browser: README.md, docs/ and DEVELOPERS.md through MkDocs.

`python -m tests.web_pages OUT` writes them into a new folder, with pictures of the invented demo:
its drawings, and its sheets where LibreOffice and pdftoppm are installed. Nothing is written twice:
the front page is README.md, and a page named in the text becomes a link to it. MkDocs runs in
strict mode, so a link that leads nowhere, and a page without a place below, ends it.
"""

import json
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import redirect_stdout
from html import escape, unescape
from io import StringIO
from itertools import groupby
from pathlib import Path
from typing import Any

import markdown
from PIL import Image, ImageOps

from estimator.cli.main import main as estimator
from estimator.cli.plain_page import heading
from estimator.documents.pdf import to_pdf
from estimator.files.resources import DEMO_JOB

ROOT = Path(__file__).parent.parent
LOOK = Path(__file__).parent / "data" / "web_pages"
NAME = "Estimator"

# In the order in which a newcomer reads. What is made here and is no page of docs/: index, commands,
# sheets, drawings, developers, subjects.
ORDER = {
    "First": "index install worked-example sheets drawings commands",
    "A job": "workbook prices issuing changes returning",
    "Files": "starters exports mail plan job-file",
    "Your own": "restyling house-bases",
    "Functions": "functions install-calc install-names install-excel",
    "For reference": "subjects bases rules principles changelog python developers",
}
UNLISTED = ("changelog", "sheets", "drawings")  # not among the subjects: headings of other kinds
EXTENSIONS = ["sane_lists"]
DRAWN = {
    "Floors": ("plan", "section", "sheet"),
    "Walls": ("elevation",),
    "Roofs against a wall": ("roof",),
    "Trays cut into an old wall": ("cut in",),
    "What rolls are cut into": ("cutting",),
}
DOTS = 110  # dots to the inch, for the sheets
INVENTED = "House, people, suppliers and prices are invented."
_OPTION = re.compile(r"(?<![\w-])--?[a-z][\w-]*")
_WITH_OPTION = re.compile(r"`([^`\n]*(?<![\w-])--?[a-z][^`\n]*)`")
_NAMED = re.compile(r"`(?:docs/([\w-]+)\.md|(README|DEVELOPERS)\.md)`")
_SIGNS = re.compile(r"[\\`*_\[\]<>]")  # that Markdown would take for its own
_BEFORE = re.compile(r"^(?:\W+|(?:an?|the) )")  # the word by which a heading is sorted
_ESCAPED = r"\\\g<0>"
_NAV = {"index.md": {"What it is": "index.md"}}
_STRICT = {
    "nav": {"omitted_files": "warn", "not_found": "warn", "absolute_links": "warn"},
    "links": dict.fromkeys(
        ("not_found", "anchors", "absolute_links", "unrecognized_links"), "warn"
    ),
}


def write(out: Path) -> None:
    """Write all pages into a new or empty folder; a sentence for each picture that is left out."""
    if out.exists() and (not out.is_dir() or any(out.iterdir())):
        raise SystemExit(f"{out}: found something in it; accepted: a new or an empty folder")
    with tempfile.TemporaryDirectory(prefix="web-pages-") as folder:
        source = Path(folder, "pages")
        pictures = source / "pictures"
        pictures.mkdir(parents=True)
        texts = pages(draw(pictures), print_sheets(pictures))
        written = {name: linked(text, texts) for name, text in texts.items()}
        written["subjects"] = subjects(written)
        for name, text in written.items():
            (source / f"{name}.md").write_text(text, "utf-8")
        for beside in ("*.json", "*.svg"):  # what pages lead to or show
            for path in (ROOT / "docs").glob(beside):
                shutil.copy(path, source)
        build(source, out)


def build(source: Path, out: Path) -> None:
    """Have MkDocs write the pages of a folder; SystemExit where it warns of anything."""
    config = source.parent / "mkdocs.yml"  # JSON is YAML
    parts = {
        part: there
        for part, names in ORDER.items()
        if (there := [f"{n}.md" for n in names.split() if (source / f"{n}.md").exists()])
    }
    settings = {
        "site_name": NAME,
        "docs_dir": str(source),
        "site_dir": str(out.resolve()),
        "use_directory_urls": False,  # pages are opened from the disk as well
        "theme": {"name": None, "custom_dir": str(LOOK)},
        "plugins": [],
        "markdown_extensions": EXTENSIONS,
        "validation": _STRICT,
        "nav": [{part: [_NAV.get(p, p) for p in there]} for part, there in parts.items()],
    }
    config.write_text(json.dumps(settings), "utf-8")
    command = [sys.executable, "-m", "mkdocs", "build", "--strict", "--config-file", str(config)]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False
    )  # quiet is not strict
    if done.returncode:
        raise SystemExit(f"MkDocs wrote no pages:\n{done.stderr}")
    for index in out.glob("sitemap.xml*"):
        index.unlink()  # addresses of a web server: there is none


def pages(drawings: dict[str, str], sheets: dict[str, str]) -> dict[str, str]:
    """Every page by its name, as Markdown; pictures by the words below them."""
    readme = sections((ROOT / "README.md").read_text("utf-8"))
    first = readme.pop("")
    commands = readme.pop("What there is")
    found = {p.stem: p.read_text("utf-8") for p in sorted((ROOT / "docs").glob("*.md"))}
    found["index"] = "\n".join(
        [first.replace("](docs/", "]("), *(f"## {t}\n{text}" for t, text in readme.items())]
    )
    found["commands"] = f"# What there is\n{commands}"
    found["developers"] = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    of_kind = {
        title: [figure(file, words) for words, file in drawings.items() if words.endswith(kinds)]
        for title, kinds in DRAWN.items()
    }
    by = "Each is made by `estimator draw`, to scale."
    found["drawings"] = gallery("Drawings of the demo", by, of_kind)
    if sheets:
        shown = {sheet: [figure(file, f"The sheet {sheet}")] for sheet, file in sheets.items()}
        by = "The workbook that `estimator demo` writes: the first page of each sheet, as LibreOffice prints it."
        found["sheets"] = gallery("Sheets of the demo", by, shown)
    return found


def sections(text: str) -> dict[str, str]:
    """The parts of a page by their headings, in their order; what comes before the first is ''."""
    first, *others = re.split(r"^## (.+)\n", text, flags=re.M)
    return {"": first, **dict(zip(others[::2], others[1::2], strict=True))}


def linked(text: str, texts: dict[str, str]) -> str:
    """Each page that is named in the text as a link that bears its title; no option is broken."""

    def link(found: re.Match[str]) -> str:
        page, other = found.groups()
        name = page or {"README": "index", "DEVELOPERS": "developers"}[other]
        return f"[{NAME if name == 'index' else heading(texts[name])}]({name}.md)"

    def unbroken(found: re.Match[str]) -> str:
        whole = _OPTION.sub(r'<span class="whole">\g<0></span>', escape(found[1], quote=False))
        return f"<code>{whole}</code>"

    return _WITH_OPTION.sub(unbroken, _NAMED.sub(link, text))


def subjects(texts: dict[str, str]) -> str:
    """A page of all headings in the order of the alphabet, each a link: it stands in for a search."""
    found: list[tuple[str, str, str, str]] = []
    for name, text in texts.items():
        if name in UNLISTED:
            continue
        reader = markdown.Markdown(extensions=["toc", "tables", "fenced_code", *EXTENSIONS])
        reader.convert(text)
        for said, place in _headings(reader.toc_tokens):  # type: ignore[attr-defined]
            found.append((_BEFORE.sub("", said.casefold()), said, name, place))
    parts = ["# Subjects, A to Z\n\nEvery heading of these pages, with its page.\n"]
    for letter, listed in groupby(sorted(found), lambda one: one[0][:1].upper()):
        parts.append(f"## {letter}\n")
        for _, said, name, place in listed:
            page = NAME if name == "index" else heading(texts[name])
            parts.append(f"- [{_SIGNS.sub(_ESCAPED, said)}]({name}.md#{place}), {page}")
        parts.append("")
    return "\n".join(parts)


def _headings(tokens: list[dict[str, Any]]) -> Iterator[tuple[str, str]]:
    """The headings below that of the page, with their places in it."""
    for token in tokens:
        if token["level"] > 1:
            yield unescape(token["name"]), token["id"]
        yield from _headings(token["children"])


def gallery(title: str, by: str, parts: dict[str, list[str]]) -> str:
    """A page of pictures, part by part."""
    shown = (
        f'## {part}\n\n<div class="gallery">\n{"".join(p)}</div>\n' for part, p in parts.items()
    )
    return "\n".join([f"# {title}\n\n{by} {INVENTED}\n", *shown])


def figure(file: str, words: str) -> str:
    """A picture that opens alone, with its words, as it stands in a page."""
    said = escape(words)
    picture = f'<a href="pictures/{file}"><img src="pictures/{file}" alt="{said}"></a>'
    return f"<figure>{picture}<figcaption>{said}</figcaption></figure>\n"


def draw(folder: Path) -> dict[str, str]:
    """Every drawing of the demo as a picture in a folder: its name, and its file there."""
    made = folder / "made"
    command = ["draw", str(DEMO_JOB), "--out", str(made), "--kind", "svg"]
    quietly(command)
    found = {}
    for path in sorted(made.iterdir()):
        found[path.stem] = re.sub(r"\W+", "-", path.stem.lower()) + ".svg"
        path.rename(folder / found[path.stem])
    made.rmdir()
    return found


def quietly(command: list[str]) -> None:
    """A command of the program, without what it prints."""
    with redirect_stdout(StringIO()):
        estimator(command, standalone_mode=False)


def print_sheets(folder: Path) -> dict[str, str]:
    """The first printed page of each sheet of the demo as a picture in a folder, margins cut off."""
    for program in ("pdftoppm", "pdftotext"):
        if shutil.which(program) is None:
            print(f"No pictures of sheets: {program} is not installed (poppler-utils).")
            return {}
    found: dict[str, str] = {}
    with tempfile.TemporaryDirectory(prefix="demo-printed-") as made:
        quietly(["demo", "--out", made])
        book = Path(made, "demo.xlsx")
        made_of = to_pdf((book,), lambda why: print(f"No pictures of sheets. {why}"))
        if not made_of:
            return {}
        (printed,) = made_of
        command = ["pdftotext", "-layout", str(printed), "-"]
        read = subprocess.run(command, check=True, capture_output=True, text=True)
        for n, words in enumerate(read.stdout.split("\f")[:-1], 1):
            (sheet,) = re.findall(r"^\s*(\S.*?) · damp-proofing materials", words, re.M)  # its foot
            if sheet in found:
                continue
            found[sheet] = f"sheet-{sheet.lower()}.png"
            command = [
                "pdftoppm",
                "-png",
                "-singlefile",
                "-r",
                str(DOTS),
                "-f",
                str(n),
                str(printed),
            ]
            subprocess.run([*command, str(Path(made, "page"))], check=True)
            with Image.open(Path(made, "page.png")) as page:
                inked = ImageOps.invert(page.convert("L")).getbbox()
                ImageOps.expand(page.crop(inked), 12, "white").save(folder / found[sheet])
    return found


if __name__ == "__main__":
    if len(sys.argv) != 2:
        raise SystemExit("python -m tests.web_pages OUT: found no folder; accepted: a new one")
    write(Path(sys.argv[1]))
