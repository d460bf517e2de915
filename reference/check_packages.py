"""Build the wheel and the source distribution, look into both, and run the program from the wheel alone.

Usage::

    python reference/check_packages.py [--list]

Held: every file of the package is in both, and nothing that is not one; the licences are in; neither is over its
size; name, version and Python are in the metadata; `import labeler` and ``labeler nutrition`` run from the unpacked
wheel; and `import labeler` takes at most 40 ms over bare Python. The builder (hatchling) is fetched by pip into a
folder that goes away. Status 1 with what is wrong.
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tarfile
import tempfile
import time
import zipfile
from collections import Counter
from collections.abc import Iterator
from email.parser import Parser
from pathlib import Path, PurePosixPath

ROOT = Path(__file__).parents[1]
MOST_MB = {"wheel": 8.0, "sdist": 9.0}
"""Size over which something is in that should not be [MB]: 5.6 and 6.2 at this writing, most of it the food table."""
LICENCES = ("labeler/LICENSE", "labeler/label/data/fonts/OFL.txt", "labeler/page/static/editor/LICENCES.txt")
EXAMPLES = "labeler/page/examples/"
"""Where the wheel carries the recipes of the demo."""
MOST_START_MS = 40.0
STARTS = 15
RECIPE = "# Icing\n- 200 g butter\n- 400 g icing sugar\n> beat\n"


def package_files() -> set[str]:
    """Every file of the package as it stands in the work tree, compiled ones apart."""
    found = (path for path in (ROOT / "labeler").rglob("*") if path.is_file() and "__pycache__" not in path.parts)
    return {path.relative_to(ROOT).as_posix() for path in found}


def build(folder: Path) -> dict[str, Path]:
    """The wheel and the source distribution, built into a folder."""
    tools = folder / "tools"
    run(sys.executable, "-m", "pip", "install", "-q", "--target", str(tools), "hatchling>=1.25")
    run(sys.executable, "-m", "hatchling", "build", "-d", str(folder), cwd=ROOT, path=tools)
    return {"wheel": next(folder.glob("*.whl")), "sdist": next(folder.glob("*.tar.gz"))}


def run(*command: str, cwd: Path | None = None, path: Path | None = None) -> str:
    """What a process prints; its error where it fails."""
    environment = {**os.environ, "PYTHONPATH": str(path or "")}
    done = subprocess.run(command, cwd=cwd, env=environment, capture_output=True, text=True)
    if done.returncode:
        raise SystemExit(f"{' '.join(command[:4])}: status {done.returncode}\n{done.stderr[-2000:]}")
    return done.stdout


def names_in(built: Path) -> set[str]:
    """The files of an archive, without the folder that a source distribution puts around them."""
    if built.suffix == ".whl":
        return {name for name in zipfile.ZipFile(built).namelist() if not name.endswith("/")}
    with tarfile.open(built) as archive:
        return {"/".join(PurePosixPath(one.name).parts[1:]) for one in archive if one.isfile()}


def content_faults(kind: str, built: Path) -> Iterator[str]:
    """What lacks in an archive, what is too much, and what is too large."""
    names, wanted = names_in(built), package_files()
    yield from (f"{kind}: {name} lacks" for name in sorted(wanted - names))
    yield from (f"{kind}: the licence {name} lacks" for name in LICENCES if name not in names)
    size = built.stat().st_size / 1e6
    if size > MOST_MB[kind]:
        yield f"{kind}: {size:.1f} MB, over {MOST_MB[kind]:g}"
    if kind == "wheel":
        ours = {name for name in names if ".dist-info/" not in name and not name.startswith(EXAMPLES)}
        yield from (f"wheel: {name} does not belong in it" for name in sorted(ours - wanted))
    else:
        others = ("README.md", "DEVELOPERS.md", "pyproject.toml", "tests/conftest.py", "reference/README.md")
        yield from (f"sdist: {name} lacks" for name in others if name not in names)
        yield from (f"sdist: {name} is compiled" for name in names if name.endswith(".pyc"))


def metadata_faults(wheel: Path, version: str) -> Iterator[str]:
    """What the metadata of the wheel should say and does not."""
    with zipfile.ZipFile(wheel) as archive:
        name = next(name for name in archive.namelist() if name.endswith(".dist-info/METADATA"))
        told = Parser().parsestr(archive.read(name).decode("utf-8"))
        if not any(name.endswith("entry_points.txt") for name in archive.namelist()):
            yield "wheel: no command is installed"
    wanted = {"Name": "labeler", "Version": version, "License-Expression": "MIT", "Requires-Python": ">=3.11"}
    yield from (f"wheel: {key} is {told[key]!r}, not {value!r}" for key, value in wanted.items() if told[key] != value)


def start_up_ms(path: Path) -> float:
    """How much longer Python takes to start with `import labeler` than without [ms], each the best of many starts."""
    best = dict.fromkeys(("pass", "import labeler"), float("inf"))
    for _ in range(STARTS):
        for code in best:
            start = time.perf_counter()
            run(sys.executable, "-c", code, path=path)
            best[code] = min(best[code], time.perf_counter() - start)
    return 1000 * (best["import labeler"] - best["pass"])


def running_faults(unpacked: Path, folder: Path) -> Iterator[str]:
    """What does not run from the unpacked wheel; dependencies are those of this Python."""
    place = run(sys.executable, "-c", "import labeler; print(labeler.__file__)", cwd=folder, path=unpacked).strip()
    if Path(place).parents[1] != unpacked:
        yield f"wheel: labeler was imported from {place}, not from the wheel"
    recipe = folder / "icing.md"
    recipe.write_text(RECIPE, encoding="utf-8")
    answer = run(sys.executable, "-m", "labeler", "nutrition", str(recipe), "--json", cwd=folder, path=unpacked)
    if '"ENERC_KCAL"' not in answer:
        yield "wheel: labeler nutrition gives no energy"
    run(sys.executable, "-c", "import labeler", path=unpacked)
    took = start_up_ms(unpacked)
    print(f"import labeler: {took:.0f} ms over bare Python")
    if took > MOST_START_MS:
        yield f"import labeler takes {took:.0f} ms over bare Python, more than {MOST_START_MS:g}"


def report(built: dict[str, Path], *, names: bool) -> None:
    """Sizes and numbers of files by their kind, or every name."""
    for kind, path in built.items():
        found = names_in(path)
        kinds = Counter(PurePosixPath(name).suffix or "other" for name in found)
        print(f"{kind}: {path.name}, {path.stat().st_size / 1e6:.1f} MB, {len(found)} files")
        print("  " + ", ".join(f"{number} {ending}" for ending, number in kinds.most_common()))
        for name in sorted(found) if names else ():
            print(f"  {name}")


def main() -> int:
    """Build, look, run; 1 where anything is wrong."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    parser.add_argument("--list", action="store_true", help="print every file of both")
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place).resolve()
        built = build(folder)
        report(built, names=asked.list)
        unpacked = folder / "unpacked"
        zipfile.ZipFile(built["wheel"]).extractall(unpacked)
        version = run(sys.executable, "-c", "import labeler; print(labeler.__version__)", path=unpacked).strip()
        faults = [
            *(fault for kind, path in built.items() for fault in content_faults(kind, path)),
            *metadata_faults(built["wheel"], version),
            *running_faults(unpacked, folder),
        ]
    print("\n".join(faults) or "nothing is wrong")
    return 1 if faults else 0


if __name__ == "__main__":
    sys.exit(main())
