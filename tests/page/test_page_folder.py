"""The folder of recipes: nothing outside it is touched, nothing is lost, nothing is overwritten in silence."""

import os

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from page_help import RECIPE, Asked

from labeler.page import folder as folders
from labeler.page.folder import KEPT_VERSIONS, Changed, Folder, digest_of, plain_text
from labeler.types import LabelerError


@pytest.fixture
def folder(tmp_path):
    place = tmp_path / "recipes"
    place.mkdir()
    (place / "oats.md").write_text(RECIPE, encoding="utf-8")
    (tmp_path / "secret.md").write_text("- 1 secret\n", encoding="utf-8")
    return Folder(place)


OUTSIDE = [
    "../secret.md",
    "a/../../secret.md",
    "..\\secret.md",
    "/etc/passwd",
    "/etc/hosts.md",
    ".labeler/x.md",
    "a/.hidden.md",
    "oats.md\0.md",
    "C:\\secret.md",
    "%2e%2e/secret.md\n",
    "oats.exe",
    "",
    " .md",
    "x" * 300 + ".md",
]


@pytest.mark.parametrize("name", OUTSIDE)
def test_no_name_leads_out_of_the_folder(folder, name):
    """A name that climbs, hides or is none is refused, for reading and for writing."""
    with pytest.raises(LabelerError):
        folder.read(name)
    with pytest.raises(LabelerError):
        folder.write(name, "- 1 egg\n", base=None)


@pytest.mark.parametrize("name", ["..%2Fsecret.md", "%2e%2e/secret.md", "%2Fetc%2Fpasswd", "..%5Csecret.md"])
def test_no_address_leads_out_of_the_folder(folder, name):
    """Nor does a name that is written with percent signs in an address."""
    page = Asked(folder.path)
    for path in (f"/recipe/{name}", f"/api/text?name={name}", f"/static/{name}", f"/fonts/{name}"):
        answer = page.get(path)
        assert answer.status_code in (400, 404) and "secret" not in answer.text.replace("secret.md", "")


def test_a_link_out_of_the_folder_is_not_followed(folder):
    """A symbolic link to a file or folder elsewhere is neither listed nor opened nor written through."""
    os.symlink(folder.path.parent / "secret.md", folder.path / "link.md")
    os.symlink(folder.path.parent, folder.path / "up")
    assert [file.name for file in folder.files()] == ["oats.md"]
    for name in ("link.md", "up/secret.md", "up/new.md"):
        with pytest.raises(LabelerError):
            folder.write(name, "- 1 egg\n", base=None)
    assert (folder.path.parent / "secret.md").read_text(encoding="utf-8") == "- 1 secret\n"


@given(text=st.text(max_size=200))
@settings(max_examples=60, deadline=None)
def test_what_is_written_is_read_back(tmp_path_factory, text):
    """Whatever is typed stands in the file as it is read again, or is refused with a sentence."""
    folder = Folder(tmp_path_factory.mktemp("folder"))
    try:
        digest = folder.write("new.md", text, base=None)
    except LabelerError:
        assert not (folder.path / "new.md").exists()
        return
    assert folder.read("new.md").strip() == plain_text(text).strip()
    assert digest == digest_of(plain_text(text))


def test_two_writers_never_overwrite_each_other(folder):
    """The second of two tabs that read the same text is told what stands there now, and nothing is lost."""
    base = digest_of(RECIPE)
    folder.write("oats.md", RECIPE + "- 1 egg\n", base=base)
    with pytest.raises(Changed) as told:
        folder.write("oats.md", RECIPE + "- 1 lemon\n", base=base)
    assert told.value.text == RECIPE + "- 1 egg\n" == folder.read("oats.md")


def test_a_file_changed_outside_is_noticed(folder):
    """An editor outside the page that wrote the file, or took it away, is never overwritten."""
    (folder.path / "oats.md").write_text("- 1 kg oats\n", encoding="utf-8")
    with pytest.raises(Changed):
        folder.write("oats.md", "- 2 eggs\n", base=digest_of(RECIPE))
    (folder.path / "oats.md").unlink()
    with pytest.raises(Changed):
        folder.write("oats.md", "- 2 eggs\n", base=digest_of(RECIPE))
    with pytest.raises(LabelerError):
        folder.read("oats.md")


def test_a_new_file_takes_nobodys_place(folder):
    """A new recipe of a title that is taken gets a name of its own."""
    assert folder.free_name("Oats") == "oats-2.md"
    with pytest.raises(Changed):
        folder.write("oats.md", "- 1 egg\n", base=None)


def test_the_last_ten_versions_are_kept(folder, monkeypatch):
    """Each save puts aside what stood there before; of many the last ten stay, and each can be read."""
    clock = [1_000_000.0]
    monkeypatch.setattr(folders.time, "time", lambda: clock[0])
    digest, texts = digest_of(RECIPE), [RECIPE]
    for number in range(13):
        clock[0] += 100
        texts.append(f"- {number + 1} eggs\n")
        digest = folder.write("oats.md", texts[-1], base=digest)
    kept = folder.versions("oats.md")
    assert len(kept) == KEPT_VERSIONS
    assert [folder.version("oats.md", one.id) for one in kept] == texts[-2 : -2 - KEPT_VERSIONS : -1]


def test_a_burst_of_typing_is_one_version(folder):
    """Saves within a minute keep the text from before the first of them, not every letter."""
    digest = digest_of(RECIPE)
    for number in range(5):
        digest = folder.write("oats.md", f"- {number + 1} eggs\n", base=digest)
    assert [folder.version("oats.md", one.id) for one in folder.versions("oats.md")] == [RECIPE]


def test_no_version_is_read_from_elsewhere(folder):
    """The id of a version is one of those that are kept, not a path."""
    for which in ("../../../oats.md", "/etc/passwd", "", "."):
        with pytest.raises(LabelerError):
            folder.version("oats.md", which)


def test_a_full_disk_leaves_the_file_as_it_was(folder, monkeypatch):
    """Where the new text cannot be written whole, the old one stands, and the cook is told."""

    def full(*given):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(LabelerError, match="no space left"):
        folder.write("oats.md", "- 2 eggs\n", base=digest_of(RECIPE))
    monkeypatch.undo()
    assert folder.read("oats.md") == RECIPE
    assert not [path for path in folder.path.iterdir() if path.name.startswith(".oats")]


@pytest.mark.skipif(os.geteuid() == 0, reason="the administrator may write anywhere")
def test_a_folder_that_may_not_be_written_is_said(folder):
    """A folder that may only be read is shown, and a save is refused with the reason."""
    folder.path.chmod(0o500)
    try:
        with pytest.raises(LabelerError, match="permission"):
            folder.write("oats.md", "- 2 eggs\n", base=digest_of(RECIPE))
    finally:
        folder.path.chmod(0o700)


def test_a_saved_text_answers_over_the_page(folder):
    """Saving over the page answers with the digest; a conflict with the other text; a bad name with a sentence."""
    page = Asked(folder.path)
    saved = page.ask("/api/save", {"name": "oats.md", "text": "- 3 eggs\n", "base": digest_of(RECIPE)})
    assert saved.json() == {"digest": digest_of("- 3 eggs\n")}
    told = page.ask("/api/save", {"name": "oats.md", "text": "- 4 eggs\n", "base": digest_of(RECIPE)})
    assert told.status_code == 409 and told.json()["changed"] == "- 3 eggs\n"
    refused = page.ask("/api/save", {"name": "../oats.md", "text": "", "base": ""})
    assert refused.status_code == 400 and "lead out" in refused.json()["said"]


def test_ten_thousand_lines_are_answered(folder):
    """A text of 10,000 lines is read, line by line; one that is too long is refused in words."""
    page = Asked(folder.path)
    text = "\n".join(f"- {number % 90 + 1} g flour" for number in range(10_000))
    found = page.ask("/api/read", {"name": "oats.md", "text": text}).json()
    assert len(found["rows"]) == 10_000
    too_long = {"name": "oats.md", "text": "- 1 g flour\n" * 200_000, "base": digest_of(RECIPE)}
    assert "split" in page.ask("/api/save", too_long).json()["said"]
