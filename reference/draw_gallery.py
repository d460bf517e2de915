"""Draw the gallery: each layout with the demo's recipes, as small pictures for the README.

Usage::

    python reference/draw_gallery.py demo demo/gallery

Takes the folder of recipes and the folder for the pictures. The same recipes give the same pictures.
"""

from __future__ import annotations

import argparse
import io
from pathlib import Path
from typing import Any

from labeler.files import read_text
from labeler.label.content import LabelContent
from labeler.label.draw import compose_label
from labeler.label.preview import preview_png
from labeler.labelling import label_content
from labeler.recipe import read_recipe

PICTURES: list[tuple[str, str, dict[str, Any]]] = [
    ("beetroot-relish", "jar", {"size": (100.0, 70.0)}),
    ("beetroot-relish", "wrap", {"layout": "wrap", "size": (230.0, 80.0), "colour": "#5b1f3a", "bleed": 0.0}),
    ("quay-pie", "card", {"size": (105.0, 148.0), "colour": "#123a5a"}),
    ("quay-pie", "tent", {"layout": "tent", "size": (148.0, 210.0), "colour": "#123a5a"}),
    ("beetroot-relish", "strip", {"layout": "strip", "size": (210.0, 45.0), "colour": "#5b1f3a"}),
]
"""Recipe, name of the picture, options of `compose_label`."""

DOTS_PER_INCH = 110.0


def small(png: bytes) -> bytes:
    """A picture in sixteen greys or colours, which is all that type needs."""
    from PIL import Image

    picture = Image.open(io.BytesIO(png)).convert("RGB").quantize(16, dither=Image.Dither.NONE)
    buffer = io.BytesIO()
    picture.save(buffer, format="PNG", optimize=True)
    return buffer.getvalue()


def content_of(folder: Path, recipe: str) -> LabelContent:
    """What the label of a demo recipe says."""
    path = folder / f"{recipe}.md"
    read = read_recipe(read_text(str(path)), source=path.name)
    return label_content(read, market=str(read.head.get("market", "us")))[0]


def main() -> None:
    """Write every picture."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("recipes", type=Path)
    parser.add_argument("pictures", type=Path)
    arguments = parser.parse_args()
    arguments.pictures.mkdir(parents=True, exist_ok=True)
    for recipe, name, options in PICTURES:
        drawing = compose_label(content_of(arguments.recipes, recipe), **options)
        data = small(preview_png(drawing, dots_per_inch=DOTS_PER_INCH))
        (arguments.pictures / f"{recipe}-{name}.png").write_bytes(data)
        print(f"{recipe}-{name}.png", len(data))


if __name__ == "__main__":
    main()
