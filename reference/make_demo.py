"""Make what the demo shows: labels, a matrix, posts and figures of the invented stall's recipes, with small pictures.

Usage::

    python reference/make_demo.py

Runs the commands of ``demo/made/README.md`` on the recipes of ``demo/`` and writes that page too. The same recipes give
the same files.
"""

from __future__ import annotations

import io
import shlex
import tempfile
from pathlib import Path

from click.testing import CliRunner

from labeler.cli.main import commands

DEMO = Path(__file__).resolve().parents[1] / "demo"
MADE = DEMO / "made"

PRINTED: list[tuple[str, str, str]] = [
    ("relish-jar", "A label for a jar", "label beetroot-relish.md --size jar"),
    (
        "relish-wrap",
        "The same round the jar: story in front, the rest beside it",
        "label beetroot-relish.md --layout wrap --size 230x80 --colour #5b1f3a",
    ),
    (
        "relish-strip",
        "For the edge of the shelf",
        "label beetroot-relish.md --layout strip --size 210x45 --colour #5b1f3a",
    ),
    ("pie-card", "A card for the table", "label quay-pie.md --size a6 --colour #123a5a"),
    ("pie-tent", "A tent that stands up, folded", "label quay-pie.md --layout tent --size 148x210 --colour #123a5a"),
    (
        "box-panel",
        "An official panel in place of the generic table",
        "label harbour-box.md --market us --panel panel-vertical --size 110x170",
    ),
    (
        "stall-matrix",
        "Which food of the stall holds which allergen",
        "matrix quay-pie.md beetroot-relish.md harbour-box.md",
    ),
]
"""Name, what it is, and the command without its output."""

WRITTEN: list[tuple[str, str, str]] = [
    (
        "box-nutrition.txt",
        "What handling does to a brined, roasted, sauced box, and how far to trust it",
        "nutrition harbour-box.md --chart",
    ),
    ("pie-allergens.txt", "Every allergen with its reason", "allergens quay-pie.md"),
    ("relish-requirements.txt", "What the market asks", "requirements beetroot-relish.md"),
    ("pie-post.html", "The block for the post", "post quay-pie.md --whole"),
    ("pie-post.md", "The same in Markdown", "post quay-pie.md --form markdown"),
]
"""File, what it is, and the command whose standard output it holds."""

_DOTS_PER_INCH = 100.0
_WIDTH = "100"


def run(command: str, *more: str) -> str:
    """Standard output of one command, run among the recipes.

    Raises
    ------
    SystemExit
        Where the command fails.
    """
    words = [str(DEMO / word) if word.endswith(".md") else word for word in shlex.split(command, comments=False)]
    environment = {"COLUMNS": _WIDTH, "LABELER_LARDER": str(MADE / "no-larder.toml"), "NO_COLOR": "1"}
    result = CliRunner().invoke(commands, [*words, *more], env=environment)
    if result.exit_code:
        raise SystemExit(f"labeler {command}: {result.output}{result.exception or ''}")
    return "\n".join(line.rstrip() for line in result.stdout.splitlines()).strip("\n") + "\n"


def small(pdf: Path) -> bytes:
    """The first page of a PDF as a picture in sixteen colours, which is all that type needs."""
    import pypdfium2
    from PIL import Image

    page = pypdfium2.PdfDocument(pdf)[0]
    picture = page.render(scale=_DOTS_PER_INCH / 72.0).to_pil().convert("RGB")
    buffer = io.BytesIO()
    picture.quantize(16, dither=Image.Dither.NONE).save(buffer, format="PNG", optimize=True)
    return buffer.getvalue()


def main() -> None:
    """Write every file, and the page that shows them."""
    MADE.mkdir(exist_ok=True)
    page = [
        "# What the program makes of the demo",
        "",
        "Each is what the command under its name makes of the recipes one folder up: `python reference/make_demo.py`.",
    ]
    with tempfile.TemporaryDirectory() as folder:
        for name, title, command in PRINTED:
            pdf = Path(folder) / f"{name}.pdf"
            run(command, "-o", str(pdf))
            (MADE / f"{name}.png").write_bytes(small(pdf))
            page += ["", f"## {title}", "", f"`labeler {command} -o {name}.pdf`", "", f"![{title}]({name}.png)"]
        (MADE / "relish-jar.pdf").write_bytes((Path(folder) / "relish-jar.pdf").read_bytes())
    for name, title, command in WRITTEN:
        (MADE / name).write_text(run(command), encoding="utf-8")
        page += ["", f"## {title}", "", f"`labeler {command} > {name}`: [{name}]({name})"]
    (MADE / "README.md").write_text("\n".join(page) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
