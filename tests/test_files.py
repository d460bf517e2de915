"""Unreadable input ends in one sentence that says where and how to mend; a written file is whole or not there."""

import io

import pytest

from labeler.files import FOOD_NAME, as_text, read_rows, read_text, write_whole
from labeler.types import LabelerError


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "is empty"),
        (b" \n\t\r\n", "is empty"),
        (b"1 egg\n\x00\x01\x02", ":2: holds a zero byte"),
        (b"1 egg\n1 caf\xe9", ":2: byte 0xe9 is not UTF-8"),
        (b"1 egg\n" + b"a" * 1_000_000, ":2: the line is 1,000,000 characters long"),
    ],
)
def test_unreadable_text_names_file_line_and_mend(tmp_path, data, words):
    """Empty, binary, wrongly encoded and endless input each name the file, the line and what to do."""
    path = tmp_path / "recipe.md"
    path.write_bytes(data)
    with pytest.raises(LabelerError) as caught:
        read_text(str(path))
    assert str(caught.value).startswith(str(path)) and words in str(caught.value)
    assert "\n" not in str(caught.value)


def test_an_empty_file_asks_for_what_its_rows_are(tmp_path):
    """Whoever gives an empty list of food names is asked for a name, not for an ingredient line."""
    path = tmp_path / "names.txt"
    path.write_text("")
    with pytest.raises(LabelerError, match="write at least one ingredient line, such as"):
        read_rows(str(path))
    with pytest.raises(LabelerError, match="write at least one food name, such as"):
        read_rows(str(path), row=FOOD_NAME)


def test_a_missing_file_names_its_neighbour(tmp_path):
    """A slip in a file name is answered with the nearest name in the folder."""
    (tmp_path / "relish.md").write_text("1 egg")
    with pytest.raises(LabelerError, match=r"no such file; did you mean .*relish\.md\?"):
        read_text(str(tmp_path / "relsh.md"))


def test_a_folder_is_not_a_recipe(tmp_path):
    """A folder given as a file is refused in a sentence."""
    with pytest.raises(LabelerError, match="this is a folder"):
        read_text(str(tmp_path))


def test_a_name_that_no_file_can_have_is_refused():
    """A zero byte inside a file name is bad input, not a crash."""
    with pytest.raises(LabelerError, match="cannot be read"):
        read_text("a\0b")


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_any_line_ending_gives_the_same_rows(tmp_path, ending):
    """Rows are the same with every line ending and with a byte order mark; blank rows stay in step."""
    path = tmp_path / "lines.txt"
    path.write_bytes(("\ufeff" + ending.join(["1 egg", "", "2 cups flour", ""])).encode())
    assert read_rows(str(path)) == ["1 egg", "", "2 cups flour"]


def test_a_dash_is_standard_input(monkeypatch):
    """The name - reads standard input."""
    monkeypatch.setattr("sys.stdin", io.TextIOWrapper(io.BytesIO("½ lemon\n".encode())))
    assert read_rows("-") == ["½ lemon"]


def test_a_file_is_written_whole_or_not_at_all(tmp_path):
    """A write replaces the old file in one move, and a failed one leaves nothing behind."""
    path = tmp_path / "label.pdf"
    write_whole(str(path), b"one")
    write_whole(str(path), b"two")
    assert path.read_bytes() == b"two"
    with pytest.raises(LabelerError, match="cannot be written"):
        write_whole(str(tmp_path / "missing" / "label.pdf"), b"x")
    with pytest.raises(LabelerError, match="cannot be written"):
        write_whole(str(tmp_path), b"x")
    assert [entry.name for entry in tmp_path.iterdir()] == ["label.pdf"]


@pytest.mark.parametrize(("begins", "what"), [(b"%PDF-1.7\n\x00", "a PDF"), (b"\x89PNG\r\n\x1a\n", "a picture")])
def test_a_file_of_no_text_is_called_what_it_is(begins, what):
    """A PDF or a picture is named as one, whatever its ending, before anything of it is read as text."""
    with pytest.raises(LabelerError, match=f"is {what} and no text"):
        as_text(begins, "recipe.txt")
