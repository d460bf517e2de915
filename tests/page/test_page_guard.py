"""Nothing but the page itself is answered: the address, the origin and the key are checked, and nothing may run."""

import re

import pytest
from page_help import KEY, RECIPE, Asked


@pytest.fixture
def page(tmp_path):
    (tmp_path / "oats.md").write_text(RECIPE, encoding="utf-8")
    made = Asked(tmp_path)
    yield made
    made.close()


@pytest.mark.parametrize("host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "localhost.evil.example:8000", ""])
def test_another_host_is_refused(page, host):
    """A name that was made to point at this machine (DNS rebinding) reaches nothing, key or not."""
    assert page.get("/", host=host).status_code == 421
    assert page.ask("/api/text?name=oats.md", {}, host=host).status_code == 421


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "http://127.0.0.1:1", "http://localhost:8000"])
def test_another_origin_is_refused(page, origin, tmp_path):
    """A form or script of another site changes nothing and reads nothing, though the browser may send the cookie."""
    given = {"name": "oats.md", "text": "- 1 egg", "base": None}
    assert page.ask("/api/save", given, origin=origin).status_code == 403
    assert page.get("/api/text?name=oats.md", origin=origin).status_code == 403
    assert (tmp_path / "oats.md").read_text(encoding="utf-8") == RECIPE


def test_a_question_without_origin_is_refused(page):
    """What changes something must say which page it comes from."""
    assert page.request("POST", "/api/stop", json={}).status_code == 403


def test_without_the_key_nothing_is_shown(tmp_path):
    """Another program of this machine that finds the port sees no recipe."""
    bare = Asked(tmp_path, cookie=False)
    for path in ("/", "/recipe/oats.md", "/api/text?name=oats.md", "/static/base.css", "/made/1"):
        assert bare.get(path).status_code == 403
    assert bare.get("/enter?key=guess").status_code == 403
    assert bare.get("/alive?key=guess").status_code == 403


def test_the_key_in_the_address_becomes_a_strict_cookie(tmp_path):
    """The first address is left at once, and its cookie goes with no other site's request and to no script."""
    bare = Asked(tmp_path, cookie=False)
    answer = bare.get(f"/enter?key={KEY}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/")
    said = answer.headers["set-cookie"].lower()
    assert "httponly" in said and "samesite=strict" in said


def test_every_answer_forbids_what_is_not_its_own(page):
    """No inline script, no frame around the page, no request to elsewhere, whatever is answered."""
    for answer in (page.get("/"), page.get("/recipe/oats.md"), page.get("/nowhere"), page.ask("/api/read", {})):
        policy = answer.headers["content-security-policy"]
        assert "default-src 'none'" in policy and "script-src 'self';" in policy and "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy and answer.headers["x-content-type-options"] == "nosniff"
        assert answer.headers["referrer-policy"] == "no-referrer"


def test_no_screen_holds_a_script_or_style_of_its_own(page):
    """Every script and style is a file of the page, so that the policy need allow nothing else."""
    for path in ("/", "/recipe/oats.md"):
        text = page.get(path).text
        assert not re.search(r"<script(?![^>]*\bsrc=)|<style|\sstyle=|\son\w+=|javascript:", text)


def test_no_get_changes_anything(page, tmp_path):
    """Whatever is only looked at leaves every file as it was, and what changes something cannot be looked at."""
    before = {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()}
    for path in ("/", "/recipe/oats.md", "/api/text?name=oats.md", "/api/versions?name=oats.md", "/stall", "/lots"):
        page.get(path)
    for path in ("/api/save", "/api/new", "/api/bring", "/api/stop", "/api/larder"):
        assert page.get(path).status_code in (404, 405)
    assert {path: path.read_bytes() for path in tmp_path.rglob("*") if path.is_file()} == before


def test_a_body_without_end_is_cut_off(page):
    """50 MB are refused by their length, and where the length is not said, once they are too many."""
    assert page.send("/api/bring", b"x" * 50_000_000).status_code == 413

    async def pieces():
        for _ in range(50):
            yield b"x" * 1_000_000

    assert page.send("/api/bring", pieces()).status_code == 413


@pytest.mark.parametrize("body", [b"", b"[1]", b"{", b'"text"', b"[" * 100_000, b'{"name": 1}', b"\xff"])
def test_a_broken_question_is_answered_with_a_sentence(page, body):
    """What is no JSON object of texts is refused in words, not with a fault."""
    for path in ("/api/read", "/api/save", "/api/foods", "/api/label"):
        answer = page.send(path, body, **{"content-type": "application/json"})
        assert answer.status_code == 400 and answer.json()["said"]


@pytest.mark.parametrize(
    "title", ["<script>alert(1)</script>", '"><img src=x onerror=alert(1)>', "{{ 7 * 7 }}", "</textarea><b>x"]
)
def test_markup_in_a_recipe_is_text(tmp_path, title):
    """A title, a file's text and a file's name come out as they were written, and as nothing else."""
    (tmp_path / "a'&b.md").write_text(f"# {title}\n- 1 egg {title}\n", encoding="utf-8")
    page = Asked(tmp_path)
    for path in ("/", "/recipe/a%27%26b.md"):
        text = page.get(path).text.replace("\n", " ")
        assert "<script>alert" not in text and "<img src=x" not in text and "<b>x" not in text and " 49" not in text
