"""Cut the label's typefaces out of Debian's Noto packages.

Takes the unpacked packages ``fonts-noto-core`` and ``fonts-noto-extra`` and writes, for each face in `FACES`, a
TrueType file with the Latin letters, figures, fractions and marks that a label needs, without hinting (a PDF does
not use it) and with pair kerning written out as a classic ``kern`` table, which the label room reads without a
shaping library. Usage::

    apt-get download fonts-noto-core fonts-noto-extra
    for p in fonts-noto-*.deb; do dpkg-deb -x "$p" unpacked; done
    pip install fonttools
    python reference/build_fonts.py unpacked/usr/share/fonts/truetype/noto --package fonts-noto-*.deb

The Japanese face comes from ``fonts-mplus`` (M+ 1, SIL Open Font License 1.1): kana and the characters of
the fixed words of a food label, its cubic outlines written as quadratic ones. ``--japanese Mplus1-Regular.otf`` cuts it
alone.

It also writes ``faces.csv``: face, source file, edition, sha256 of source and of the cut file.
"""

from __future__ import annotations

import argparse
import csv
import hashlib
import io
import unicodedata
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from fontTools.pens.cu2quPen import Cu2QuPen
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.subset import Options, Subsetter
from fontTools.ttLib import TTFont, newTable
from fontTools.ttLib.tables._k_e_r_n import KernTable_format_0

OUTPUT = Path(__file__).resolve().parents[1] / "labeler/label/data/fonts"

FACES = {
    "text": "NotoSans-SemiCondensed.ttf",
    "text-bold": "NotoSans-SemiCondensedBold.ttf",
    "text-italic": "NotoSans-SemiCondensedItalic.ttf",
    "narrow": "NotoSans-Condensed.ttf",
    "narrow-bold": "NotoSans-CondensedBold.ttf",
    "narrow-italic": "NotoSans-CondensedItalic.ttf",
    "slim": "NotoSans-ExtraCondensed.ttf",
    "slim-bold": "NotoSans-ExtraCondensedBold.ttf",
    "slim-italic": "NotoSans-ExtraCondensedItalic.ttf",
    "title": "NotoSerifDisplay-SemiCondensedSemiBold.ttf",
    "story": "NotoSerif-SemiCondensedItalic.ttf",
    "signs": "NotoSansMath-Regular.ttf",
    "symbols": "NotoSansSymbols2-Regular.ttf",
}

# Unicode blocks, inclusive: Basic Latin to Latin Extended-B, Latin Extended Additional, General Punctuation,
# superscripts and subscripts, currency signs, letterlike symbols, number forms; then single signs.
BLOCKS = [
    (0x20, 0x7E),
    (0xA0, 0x17F),
    (0x180, 0x24F),
    (0x1E00, 0x1EFF),
    (0x2010, 0x2027),
    (0x2030, 0x205E),
    (0x2070, 0x209C),
    (0x20A0, 0x20BF),
    (0x2113, 0x2122),
    (0x2150, 0x215F),
    (0x2189, 0x2189),
]
SIGNS = "μΔΩπ⁄�ˆˇ˘˙˚˛˜˝"
ONLY = {"signs": "−≈≠≤≥∞√←↑→↓", "symbols": "●○"}  # faces cut for the few signs that the text faces lack
JAPANESE = (
    "栄養成分表示食品単位量熱脂質飽和酸炭水化物糖類塩相当推定値目安当たり名称原材料内容賞味消費期限年月日保存方法製造者販売所加工添"
    "直射光高温多湿避冷蔵凍常開封後早召上一部含小麦卵乳落花生海老蟹大豆胡桃個枚本袋瓶缶箱杯匙約計算県市区町村丁番地号国産輸入"
    "固形総液遺伝子組換別枠欄外記載下裏面参照合植油〒動香料着色甘味保調味酒醤砂粉"
)
"""The fixed words of a food label; kana and full-width marks are kept besides. Common practice, no source."""
JAPANESE_BLOCKS = [
    (0x3000, 0x3002),
    (0x3005, 0x3011),
    (0x3041, 0x3096),
    (0x309B, 0x309E),
    (0x30A1, 0x30FE),
    (0xFF01, 0xFF1F),
]
# Pairs are kept for the letters that Western, Central and Northern European languages use.
KERNED = [chr(c) for c in range(0x21, 0x180)] + list("‘’“”–—")


def wanted(face: str) -> set[int]:
    """Code points to keep for a face, format controls and unassigned ones left out."""
    if face in ONLY:
        return {ord(sign) for sign in ONLY[face]}
    points = {c for first, last in BLOCKS for c in range(first, last + 1)} | {ord(sign) for sign in SIGNS}
    return {c for c in points if unicodedata.category(chr(c)) not in {"Cf", "Cn", "Zl", "Zp"}}


def cut_japanese(source: Path) -> bytes:
    """The Japanese face cut from an OpenType file with cubic outlines, as TrueType, the same bytes each time."""
    font = TTFont(source, recalcTimestamp=False)
    points = {c for first, last in JAPANESE_BLOCKS for c in range(first, last + 1)} | {ord(sign) for sign in JAPANESE}
    drop = ["GSUB", "GPOS", "GDEF", "BASE", "VORG", "vhea", "vmtx", "DSIG", "STAT", "meta"]
    options = Options(hinting=False, layout_features=[], notdef_outline=True, recalc_timestamp=False, drop_tables=drop)
    options.drop_tables = drop
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=points)
    subsetter.subset(font)
    glyphs, order = font.getGlyphSet(), font.getGlyphOrder()
    outlines = {}
    for name in order:
        pen = TTGlyphPen(glyphs)
        glyphs[name].draw(Cu2QuPen(pen, max_err=font["head"].unitsPerEm / 1000, reverse_direction=True))
        outlines[name] = pen.glyph()
    del font["CFF "]
    font["loca"], font["glyf"] = newTable("loca"), newTable("glyf")
    font["glyf"].glyphOrder, font["glyf"].glyphs = order, outlines
    font["maxp"].tableVersion = 0x00010000
    for key in _MAXP:
        setattr(font["maxp"], key, _MAXP[key])
    font["maxp"].maxComponentElements = 0
    font["post"].formatType = 3.0
    for name, outline in outlines.items():
        outline.recalcBounds(font["glyf"])
        left = getattr(outline, "xMin", 0) if outline.numberOfContours else 0
        font["hmtx"].metrics[name] = (font["hmtx"].metrics[name][0], left)
    font.sfntVersion = "\x00\x01\x00\x00"
    kern = newTable("kern")
    kern.version = 0
    table = KernTable_format_0(apple=False)
    table.coverage, table.version, table.format, table.tupleIndex = 1, 0, 0, None
    table.kernTable = {}
    kern.kernTables = [table]
    font["kern"] = kern
    buffer = io.BytesIO()
    font.save(buffer)
    return buffer.getvalue()


_MAXP = dict.fromkeys(
    "maxZones maxTwilightPoints maxStorage maxFunctionDefs maxInstructionDefs maxStackElements "
    "maxSizeOfInstructions maxComponentElements maxPoints maxContours maxCompositePoints maxCompositeContours "
    "maxComponentDepth".split(),
    0,
) | {"maxZones": 1}


def pair_kerning(font: TTFont) -> dict[tuple[str, str], int]:
    """Kerning of every pair of `KERNED` in font units, read from the GPOS feature ``kern``.

    Pair positioning formats 1 and 2, the first subtable that covers a pair decides (OpenType 1.9, GPOS chapter).
    """
    if "GPOS" not in font:
        return {}
    gpos = font["GPOS"].table
    wanted_lookups = {
        index
        for record in gpos.FeatureList.FeatureRecord
        if record.FeatureTag == "kern"
        for index in record.Feature.LookupListIndex
    }
    cmap = font.getBestCmap()
    names = [cmap[ord(c)] for c in KERNED if ord(c) in cmap]
    pairs: dict[tuple[str, str], int] = {}
    for index in sorted(wanted_lookups):
        decided: dict[tuple[str, str], int] = {}
        for table in gpos.LookupList.Lookup[index].SubTable:
            for pair, advance in advances(getattr(table, "ExtSubTable", table), names):
                decided.setdefault(pair, advance)
        for pair, advance in decided.items():
            if advance:
                pairs[pair] = pairs.get(pair, 0) + advance
    return pairs


def advances(table: Any, names: list[str]) -> Iterator[tuple[tuple[str, str], int]]:
    """The advance of every pair that a subtable of pair positioning covers; nothing for a subtable of another kind."""
    covered = {glyph: place for place, glyph in enumerate(table.Coverage.glyphs)} if table.LookupType == 2 else {}
    for left in filter(covered.__contains__, names):
        if table.Format == 1:
            found = {r.SecondGlyph: r.Value1 for r in table.PairSet[covered[left]].PairValueRecord}
        else:
            row = table.Class1Record[table.ClassDef1.classDefs.get(left, 0)].Class2Record
            classes = table.ClassDef2.classDefs
            found = {name: row[classes.get(name, 0)].Value1 for name in names}
        for right in filter(found.__contains__, names):
            yield (left, right), getattr(found[right], "XAdvance", 0) or 0


def cut(face: str, source: Path) -> bytes:
    """The cut font file of `source`, the same bytes each time."""
    font = TTFont(source, recalcTimestamp=False)
    pairs = pair_kerning(font)
    options = Options(
        hinting=False,
        layout_features=[],
        name_IDs=["*"],
        notdef_outline=True,
        recalc_timestamp=False,
        drop_tables=["GSUB", "GPOS", "GDEF", "DSIG", "STAT", "meta"],
    )
    subsetter = Subsetter(options)
    subsetter.populate(unicodes=wanted(face))
    subsetter.subset(font)
    kern = newTable("kern")
    kern.version = 0
    table = KernTable_format_0(apple=False)
    table.coverage, table.version, table.format, table.tupleIndex = 1, 0, 0, None
    # The table's length field is 16 bits: keep the pairs that matter most if there are too many.
    room = (0xFFFF - 14) // 6
    table.kernTable = dict(sorted(sorted(pairs.items(), key=lambda item: -abs(item[1]))[:room]))
    kern.kernTables = [table]
    font["kern"] = kern
    buffer = io.BytesIO()
    font.save(buffer)
    return buffer.getvalue()


def main() -> None:
    """Write every face and the list that records where it comes from."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path, nargs="?", help="folder with the Noto TrueType files")
    parser.add_argument("--package", type=Path, nargs="*", default=[], help="the Debian packages, for their checksums")
    parser.add_argument("--japanese", type=Path, help="OpenType file of the Japanese face, cut alone")
    arguments = parser.parse_args()
    if arguments.japanese is not None:
        data = cut_japanese(arguments.japanese)
        (OUTPUT / "japanese.ttf").write_bytes(data)
        edition = TTFont(arguments.japanese)["name"].getDebugName(5).split(";")[0]
        sums = [hashlib.sha256(content).hexdigest() for content in (arguments.japanese.read_bytes(), data)]
        print(
            ",".join(["japanese", "japanese.ttf", arguments.japanese.name, edition, "SIL Open Font License 1.1", *sums])
        )
        return
    for package in arguments.package:
        print(package.name, hashlib.sha256(package.read_bytes()).hexdigest())
    rows = []
    for face, name in FACES.items():
        data = cut(face, arguments.folder / name)
        (OUTPUT / f"{face}.ttf").write_bytes(data)
        source = arguments.folder / name
        edition = TTFont(source)["name"].getDebugName(5).split(";")[0]
        sums = [hashlib.sha256(content).hexdigest() for content in (source.read_bytes(), data)]
        rows.append([face, f"{face}.ttf", name, edition, "SIL Open Font License 1.1", *sums])
        print(face, len(data))
    with (OUTPUT / "faces.csv").open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(["face", "file", "cut_from", "edition", "licence", "source_sha256", "sha256"])
        writer.writerows(rows)


if __name__ == "__main__":
    main()
