"""Read random and mutated documents of every form: none may crash, and nothing of a text may be lost.

Usage::

    python reference/mutate_documents.py FOLDER [--count 10000] [--seed 1]

FOLDER holds documents to begin from, such as ``tests/documents``. Each is cut, joined with another, has rows moved,
doubled and turned, signs put in and taken out, marks, breaks and letters changed; some are random from the start. A
document is either read or refused with a `LabelerError`; anything else is a crash. Of a text that is read every word
must stand in a line, a step, a note, the head, a title, a group or a problem. Prints each failure with the number that
makes it again (--only), and the counts.
"""

from __future__ import annotations

import argparse
import html
import random
import re
import sys
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path

from labeler.data_files import data_folder, data_rows
from labeler.files import as_text
from labeler.importers.reading import form_of, import_recipes
from labeler.parsing.columns import names_columns
from labeler.parsing.headings import read_heading
from labeler.parsing.model import Recipe
from labeler.parsing.text_repair import without_unseen
from labeler.types import LabelerError

SIGNS = "-*+>#|:;,.()[]{}'\"&<>½¼⅓0123456789 \t\n\r\u00a0\u00ad\u200b–—•✅1️⃣éßж中🍞"
ROWS = (
    "## Ingredients", "## Method", "---", "> simmer 20 minutes", "- 2 cups flour", "1. Mix it all.", "Serves 4",
    "| 2 cups | flour |", "|---|---|", "<b>Notes</b>", "title: x", "```", "<!-- a remark -->", "For the sauce:",
    "* * *", "<ul><li>1 egg", "Tip: rest it.", "https://example.org", "{food 15028, 454 g}", "- [ ] 3 eggs",
)  # fmt: skip
MOST = 6_000
_WORD = re.compile(r"[^\W\d_]{2,}|\d{3,}")
_TAG = re.compile(r"</?[a-zA-Z!][^<>]*>|<!--|-->")
_INLINE_TAG = re.compile(r"</?(?:b|i|em|strong|span|a|u|s|small|sup|sub|code|font|mark)\b[^<>]*>", re.IGNORECASE)
_IN_WORDS = re.compile(r"[*`\\]")
"""Signs of mark-up that part no word."""
_NUMBER = re.compile(r"^\W*(?:step\s*)?\d{1,2}(?:\s*[.):]|\ufe0f?\u20e3)", re.IGNORECASE)
_KEYS = frozenset(["title", "name", "recipe"])
_SAY_WHAT = frozenset(
    "for the an your of to make step steps method directions instructions ingredients preparation you need will ll "
    "want also we then".split()
)
"""Words of headings that groups go by without."""


def _keys_of_heads() -> frozenset[str]:
    folder = data_folder("labeler.parsing")
    rows = [*data_rows(folder / "head_aliases.csv"), *data_rows(folder / "head_keys.csv")]
    words = {word.casefold() for row in rows for cell in row.values() for word in _WORD.findall(str(cell))}
    return frozenset(words | {_without_accents(word) for word in words})  # a head is read without them too


def _without_accents(word: str) -> str:
    return "".join(sign for sign in unicodedata.normalize("NFKD", word) if not unicodedata.combining(sign))


def mutated(sources: list[bytes], rng: random.Random) -> bytes:
    """One document made of others."""
    if rng.random() < 0.05:
        return "".join(rng.choice(SIGNS) for _ in range(rng.randrange(400))).encode()
    rows = rng.choice(sources)[:MOST].decode("utf-8", "replace").split("\n")
    for _ in range(rng.randrange(1, 8)):
        rows = rng.choice(CHANGES)(rows, sources, rng) or ["x"]
    text = "\n".join(rows)
    encoding = rng.choices(["utf-8", "utf-16", "cp1252"], [94, 3, 3])[0]
    return text.encode(encoding, "replace")


def _with_sign(rows: list[str], rng: random.Random) -> list[str]:
    at = rng.randrange(len(rows))
    place = rng.randrange(len(rows[at]) + 1)
    return [*rows[:at], f"{rows[at][:place]}{rng.choice(SIGNS)}{rows[at][place:]}", *rows[at + 1 :]]


def _with_row(rows: list[str], row: str, rng: random.Random, *, instead: bool = False) -> list[str]:
    at = rng.randrange(len(rows))
    return [*rows[:at], row, *rows[at + instead :]]


Change = Callable[[list[str], list[bytes], random.Random], list[str]]
CHANGES: tuple[Change, ...] = (
    lambda rows, sources, rng: _with_sign(rows, rng),
    lambda rows, sources, rng: _with_row(rows, rng.choice(ROWS), rng),
    lambda rows, sources, rng: _with_row(rows, rng.choice(rows), rng),
    lambda rows, sources, rng: _with_row(rows, rng.choice(rows), rng, instead=True),
    lambda rows, sources, rng: _with_row(rows, f"{rng.choice(rows)} {rng.choice(rows)}", rng),
    lambda rows, sources, rng: _with_row(rows, rng.choice(rows).upper(), rng, instead=True),
    lambda rows, sources, rng: _with_row(rows, f"    {rng.choice(rows)}", rng),
    lambda rows, sources, rng: rows[: rng.randrange(len(rows)) + 1],
    lambda rows, sources, rng: rng.sample(rows, len(rows)),
    lambda rows, sources, rng: rows + rng.choice(sources)[:MOST].decode("utf-8", "replace").split("\n"),
)


def told(recipe: Recipe) -> Iterator[str]:
    """Everything that a recipe keeps of its text."""
    yield from (recipe.title, repr(recipe.head))
    for part in recipe.parts:
        yield part.title
        for line in part.lines:
            yield from (line.text, line.group)
        for step in part.handling:
            yield from (step.text, step.group)
    yield from (f"{note.kind} {note.text}" for note in recipe.notes)
    yield from (problem.message for problem in recipe.problems)


def of_structure(row: str) -> str:
    """A row without what only says what stands where: tags, numbers of steps, known headings, heads of columns."""
    plain = _NUMBER.sub("", _TAG.sub(" ", row))
    head, _, rest = plain.partition(":")
    if read_heading(plain).opens is not None or names_columns(plain.replace("\t", "|")):
        return ""
    return rest if read_heading(head).opens is not None or head.strip(" #*_").casefold() in _KEYS else plain


def _words(text: str) -> list[str]:
    return [word.casefold() for word in _WORD.findall(_IN_WORDS.sub("", text))]


def lost(data: bytes, recipes: list[Recipe]) -> list[str]:
    """The words of a plain text that its recipes keep nowhere."""
    kept = {word for recipe in recipes for text in told(recipe) for word in _words(text)}
    rows = html.unescape(without_unseen(as_text(data, "document", most=10**6))).splitlines()
    found = (word for row in rows for word in _words(of_structure(row)))
    joined = {word for row in rows for word in _words(of_structure(_INLINE_TAG.sub("", row)))}  # "sa<b>l</b>t"
    known = kept | _SAY_WHAT | _keys_of_heads()
    return [word for word in dict.fromkeys(found) if word not in known and word in joined]


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("folder", type=Path)
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", type=int, default=None, help="make this one again and print it")
    options = parser.parse_args()
    sources = [path.read_bytes() for path in sorted(options.folder.iterdir()) if path.suffix != ".csv"]
    counts = {"read": 0, "refused": 0, "crashed": 0, "lost something": 0}
    for number in [options.only] if options.only is not None else range(options.count):
        data = mutated(sources, random.Random(f"{options.seed} {number}"))
        form = form_of(data, "document")
        if options.only is not None:
            sys.stdout.write(data.decode("utf-8", "replace") + "\n")
        try:
            recipes = import_recipes(data, form, "document")
        except LabelerError:
            counts["refused"] += 1
            continue
        except Exception as error:
            counts["crashed"] += 1
            print(f"{number} ({form}): {type(error).__name__}: {error}")
            continue
        counts["read"] += 1
        words = lost(data, recipes) if form == "text" else []
        if words:
            counts["lost something"] += 1
            print(f"{number} ({form}): lost {words[:8]}")
    print(", ".join(f"{count:,} {name}" for name, count in counts.items()))


if __name__ == "__main__":
    main()
