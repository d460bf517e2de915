"""Fold the phrases of the allergen vocabulary once, so that starting up does not.

    python reference/build_allergen_vocabulary.py

Reads labeler/allergens/data/vocabulary/*.csv and writes labeler/allergens/data/vocabulary.json beside them. Without
it, or after a change of the files, the program folds them itself at each start, about 40 ms slower; a test says so.
"""

from __future__ import annotations

import json

from labeler.allergens.vocabulary import COMPILED, compiled, digest_of, vocabulary_files


def main() -> None:
    """Write the file."""
    files = vocabulary_files()
    made = {"digest": digest_of(files), **compiled(files)}
    COMPILED.write_text(json.dumps(made, ensure_ascii=False, separators=(",", ":")) + "\n", encoding="utf-8")
    print(f"{len(made['phrases'])} phrases of {len(made['rows'])} rows, {COMPILED.stat().st_size} bytes")


if __name__ == "__main__":
    main()
