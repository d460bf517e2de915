"""Open food data against a local server that plays both services: good, odd, slow, failing, huge, hostile replies."""

from __future__ import annotations

import json
import time

import pytest
from opendata_help import CODE, FAR, GOOD, ROUND, refused, send, serving

from labeler.cli.main import main
from labeler.larder.complete import complete
from labeler.larder.file import read_larder
from labeler.open_data import fooddata, foodfacts
from labeler.open_data import http_client as net
from labeler.open_data.found import clean, day_of, number_of


@pytest.fixture
def served(tmp_path, monkeypatch):
    """Both services on loopback."""
    yield from serving(tmp_path, monkeypatch)


def codes(found):
    """Codes of what is odd about a find."""
    return {problem.code for problem in found.problems}


def test_a_package_comes_with_its_source_its_licence_and_its_date(served):
    """Figures as typed, tags as words, marks and mark-up gone from the list."""
    found = foodfacts.package(CODE)
    assert found.food.name == "Marram Bakehouse Oat biscuits" and found.food.per == "100 g"
    assert found.food.panel["fat"] == "19.2 g" and found.food.panel["energy_kcal"] == "466 kcal"
    assert "sodium" not in found.food.panel  # it follows from the salt
    assert found.food.ingredients == "Oat flakes 52 %, sugar, butter (milk), wheat flour"
    assert found.food.contains == "oats, milk, wheat" and found.food.may_contain == "nuts"
    assert "Open Food Facts" in found.food.source and "ODbL" in found.food.licence
    assert found.food.read_on.isoformat() == "2026-01-01" and found.food.net == "300 g"
    own = complete(found.food)
    assert own.per_100g["NA"].best == pytest.approx(360) and not codes(found)


def test_who_asks_says_who_it_is_and_only_what_is_needed(served):
    """A user agent with name and version; the fields that are read and no others; no key to a service without one."""
    foodfacts.package(CODE)
    path, headers = served.asked[0]
    assert headers["User-Agent"].startswith("labeler/") and "fields=code%2C" in path and "X-Api-Key" not in headers
    fooddata.food("534358")
    path, headers = served.asked[1]
    assert headers["X-Api-Key"] == "secret-of-the-test" and "secret" not in path


def test_a_second_run_asks_nobody_and_offline_serves_what_is_kept(served):
    """Kept answers are the same answers; what is not kept is one line."""
    first = foodfacts.package(CODE)
    assert foodfacts.package(CODE) == first and foodfacts.package(CODE, offline=True) == first
    assert len(served.asked) == 1
    assert "nothing is kept" in refused(foodfacts.package, "96385074", offline=True)
    assert len(served.asked) == 1


def test_the_key_is_kept_nowhere(served, tmp_path):
    """Neither the cache nor the account of requests holds the key."""
    fooddata.food("534358")
    for file in (tmp_path / "cache").iterdir():
        assert b"secret-of-the-test" not in file.read_bytes()


def test_an_old_answer_is_asked_about_and_kept_where_it_has_not_changed(served, monkeypatch):
    """A conditional request after its time; 304 keeps the copy."""
    state = {"sent": 0}

    def reply(handler):
        if handler.headers.get("If-None-Match") == '"v1"':
            handler.send_response(304)
            handler.send_header("ETag", '"v1"')
            handler.end_headers()
            state["sent"] += 1
        else:
            send(handler, {"code": CODE, "status": 1, "product": GOOD}, headers={"ETag": '"v1"'})

    served.replies[f"/api/v2/product/{CODE}.json"] = reply
    monkeypatch.setattr(net, "KEPT_SECONDS", 1)
    first = foodfacts.package(CODE)
    time.sleep(1.2)
    assert foodfacts.package(CODE).food == first.food
    assert state["sent"] == 1 and len(served.asked) == 2


def test_an_old_copy_is_served_where_the_service_has_gone_and_says_so(served, monkeypatch):
    """Stale is better than nothing, offline too, and the cook is told."""
    monkeypatch.setattr(net, "KEPT_SECONDS", 1)
    foodfacts.package(CODE)
    time.sleep(1.2)
    assert foodfacts.package(CODE, offline=True).food.name
    served.replies[f"/api/v2/product/{CODE}.json"] = lambda handler: handler.connection.close()
    assert "opendata-kept" in codes(foodfacts.package(CODE))


@pytest.mark.parametrize(
    ("changes", "code"),
    [
        ({"nutriments": {"energy-kj_value": 1950, "energy-kj_unit": "kJ", "fat_value": 19}}, "opendata-kilojoules"),
        ({"no_nutrition_data": "on"}, "opendata-no-panel"),
        ({"nutriments": {}}, "opendata-no-panel"),
        ({"nutriments": "none"}, "opendata-no-panel"),
        ({"nutriments": [1, 2]}, "opendata-no-panel"),
        ({"product_quantity_unit": "ml", "quantity": "1 l"}, "opendata-volume"),
        ({"nutriments": GOOD["nutriments"] | {"sodium_value": 3.6}}, "opendata-contradiction"),
        ({"nutriments": GOOD["nutriments"] | {"energy-kj_value": 466}}, "opendata-contradiction"),
        ({"nutriments": GOOD["nutriments"] | {"fat_value": "lots"}}, "opendata-figure"),
        ({"nutriments": GOOD["nutriments"] | {"fat_value": -4}}, "opendata-figure"),
        ({"nutriments": GOOD["nutriments"] | {"fat_value": 1e400}}, "opendata-figure"),
        ({"nutriments": GOOD["nutriments"] | {"fat_value": {"a": 1}}}, "opendata-figure"),
        ({"nutriments": GOOD["nutriments"] | {"alcohol_value": 5}}, "opendata-alcohol"),
        ({"nutrition_data_per": "serving", "serving_size": "one"}, "opendata-serving"),
        ({"ingredients_text_en": None, "ingredients_text": "farine de blé", "lang": "fr"}, "opendata-language"),
        ({"ingredients_text_en": None}, "opendata-no-list"),
        ({"allergens_tags": ["fr:moutarde", 3, None]}, "opendata-tag"),
        ({"countries_tags": ["en:united-states"]}, "opendata-carbohydrate"),
        ({"countries_tags": 7}, None),
        ({"last_modified_t": "yesterday"}, None),
        ({"quantity": ["a"]}, None),
    ],
)
def test_odd_entries_end_in_a_value_with_its_source_and_say_what_is_odd(served, changes, code):
    """Kilojoules alone, 100 ml, contradictions, other languages, wrong types: nothing breaks and nothing is hidden."""
    served.product(**changes)
    found = foodfacts.package(CODE)
    assert found.food.source and found.food.licence
    assert code is None or code in codes(found)
    complete(found.food)


def test_traces_and_less_than_are_bounds(served):
    """'traces' and '<' are kept as they are: an interval from nothing up."""
    served.product(nutriments={"fat_value": "traces", "sugars_value": 0.5, "sugars_modifier": "<", "sugars_unit": "g"})
    found = foodfacts.package(CODE)
    assert found.food.panel == {"fat": "traces", "sugars": "<0.5 g"}
    own = complete(found.food)
    assert own.per_100g["FAT"].low == 0 < own.per_100g["FAT"].high
    assert own.per_100g["SUGAR"].high == pytest.approx(0.5)


def test_a_panel_of_a_serving_is_of_that_serving(served):
    """Typed figures of a serving that has a weight are taken with it."""
    served.product(nutrition_data_per="serving", serving_size="2 biscuits (25 g)")
    found = foodfacts.package(CODE)
    assert found.food.per == "2 biscuits (25 g)"
    assert complete(found.food).per_100g["FAT"].best == pytest.approx(76.8)


def test_what_is_hostile_is_harmless(served):
    """Terminal signs, direction signs, mark-up and a mile of text come out as plain short words."""
    served.product(
        product_name="\x1b[31mBis\u202ecuits\x07<script>alert(1)</script>\r\n", brands="x" * 9000,
        traces_tags="en:nuts",
        ingredients_text_en="sugar, " * 5000 + "milk" + "(" * 3000,
    )  # fmt: skip
    found = foodfacts.package(CODE)
    assert found.food.name.isprintable() and "script" not in found.food.name and len(found.food.name) < 250
    assert len(found.food.ingredients) <= 8000 and complete(found.food)


@pytest.mark.parametrize(
    ("reply", "says"),
    [
        (lambda handler: send(handler, {"code": CODE, "status": 0}), "does not have this package"),
        (lambda handler: send(handler, {}, status=404), "does not have this package"),
        (lambda handler: send(handler, "<html>down</html>"), "no JSON"),
        (lambda handler: send(handler, b"\xff\xfe\x00"), "no JSON"),
        (lambda handler: send(handler, "[" * 100000), "no JSON"),
        (lambda handler: send(handler, "[]"), "something else"),
        (lambda handler: send(handler, {"status": 1, "product": "x"}), "something else"),
        (lambda handler: send(handler, {"status": 1, "product": {}}), "no name"),
        (lambda handler: send(handler, {"status": 1, "product": GOOD | {"code": "96385074"}}), "another bar code"),
        (lambda handler: send(handler, {}, status=500), "fault of its own"),
        (lambda handler: send(handler, {}, status=429), "too often"),
        (lambda handler: send(handler, {}, status=429, headers={"Retry-After": "86400"}), "too often"),
        (lambda handler: send(handler, {}, status=503, headers={"Retry-After": FAR}), "fault"),
        (lambda handler: send(handler, {}, status=302, headers={"Location": "http://192.0.2.1/x"}), "another host"),
        (lambda handler: send(handler, {}, status=302, headers={"Location": "file:///etc/passwd"}), "another host"),
        (lambda handler: send(handler, {}, status=302, headers={"Location": ROUND}), "without end"),
        (lambda handler: time.sleep(0.8), "in time"),
        (lambda handler: handler.connection.close(), "cannot be reached"),
        (lambda handler: send(handler, "{", headers={"Content-Length": 5000}), "broke off|no JSON|in time|reached"),
        (lambda handler: send(handler, b"x" * (5 << 20)), "more than 4 MiB"),
        (lambda handler: send(handler, b"no gzip", headers={"Content-Encoding": "gzip"}), "broke off"),
    ],
)  # fmt: skip
def test_every_failing_reply_is_one_clear_line(served, reply, says):
    """Not there, broken, slow, huge, moved, too often: a line that says what, and nothing of it is kept."""
    import re

    served.replies[f"/api/v2/product/{CODE}.json"] = reply
    assert re.search(says, refused(foodfacts.package, CODE))
    served.product()
    assert foodfacts.package(CODE).food.name


def test_a_bomb_of_zeros_is_not_unpacked(served):
    """A few kilobytes that unpack to hundreds of megabytes stop at the limit."""
    import gzip

    bomb = gzip.compress(bytes(64 << 20))
    served.replies[f"/api/v2/product/{CODE}.json"] = lambda handler: send(
        handler, bomb, headers={"Content-Encoding": "gzip"}
    )
    assert "more than 4 MiB" in refused(foodfacts.package, CODE)


def test_a_drip_of_bytes_ends(served, monkeypatch):
    """A reply that never stands still and never ends is given up after the whole time, however little has come."""
    looks, sent = [], []

    def clock():
        """A clock that goes on by a quarter of the whole time whenever it is looked at."""
        looks.append(None)
        return len(looks) * net.WHOLE_SECONDS / 4

    monkeypatch.setattr(net, "_clock", clock)

    def drip(handler):
        handler.send_response(200)
        handler.send_header("Content-Length", str(net.MAX_BYTES - 1))
        handler.end_headers()
        while sum(sent) < net.MAX_BYTES - 70000:
            handler.wfile.write(b" " * 70000)
            sent.append(70000)

    served.replies[f"/api/v2/product/{CODE}.json"] = drip
    assert "is too slow" in refused(foodfacts.package, CODE)
    assert len(looks) == 6  # at the beginning, after four pieces in time and after the fifth


def test_a_passing_fault_is_tried_again_and_a_wait_is_honoured(served, monkeypatch):
    """Two failures and then an answer; the pause is the one that the service names."""
    waits, left = [], [503, 429]
    monkeypatch.setattr(net, "_sleep", waits.append)
    good = served.replies[f"/api/v2/product/{CODE}.json"]

    def reply(handler):
        if left:
            send(handler, {}, status=left.pop(0), headers={"Retry-After": "3"})
        else:
            good(handler)

    served.replies[f"/api/v2/product/{CODE}.json"] = reply
    assert foodfacts.package(CODE).food.name
    assert waits == [3.0, 3.0] and len(served.asked) == 3


def test_the_rate_of_the_service_is_kept_over_all_runs(served, monkeypatch):
    """After as many questions as a service allows in its time, no more is sent, and the line says how long to wait."""
    monkeypatch.setattr(foodfacts, "PER_MINUTE", 2)
    for code in ("96385074", "036000291452"):
        refused(foodfacts.package, code)
    assert "used up" in refused(foodfacts.package, CODE)
    assert len(served.asked) == 2


def test_without_a_network_there_is_a_clear_line(served, monkeypatch):
    """Nobody listens: what cannot be reached, and how to go on without."""
    monkeypatch.setenv(foodfacts.PLACE, "http://127.0.0.1:9")
    said = refused(foodfacts.package, CODE)
    assert "cannot be reached" in said and "labeler larder add" in said
    monkeypatch.setenv(foodfacts.PLACE, "ftp://x")
    assert "no address" in refused(foodfacts.package, CODE)


@pytest.mark.parametrize("code", ["", "12", "4006381333932", "abc", "4006381333931; rm", "٤٠٠٦٣٨١٣٣٣٩٣١"])
def test_what_is_no_bar_code_is_never_asked(served, code):
    """Wrong length, wrong check digit, other signs."""
    refused(foodfacts.package, code)
    assert not served.asked


def test_a_branded_food_has_the_prints_of_its_label(served):
    """8.9992 g of fat was printed as 9 g, 0 g as 0 g: figures of a serving under US rounding."""
    found = fooddata.food("534358")
    assert found.food.panel["total_fat"] == "9 g" and found.food.panel["calories"] == "140"
    assert found.food.panel["dietary_fiber"] == "2 g" and found.food.rounded_under == "us"
    assert found.food.per == "1/4 cup (28 g)" and "CC0" in found.food.licence
    own = complete(found.food)
    assert own.per_100g["FATRN"].high > 0 and own.measures["cup"].best == pytest.approx(112)


def test_a_food_of_the_table_is_like_itself(served):
    """Figures of 100 g by nutrient number, IU and missing amounts reported or left out, the same food as its like."""
    found = fooddata.food("173414")
    assert found.food.like == "01009" and found.food.per == "100 g" and found.food.panel["PROCNT"] == "22.87 g"
    assert complete(found.food).per_100g["ENERC_KCAL"].best == 404
    assert "FE" not in found.food.panel


@pytest.mark.parametrize(
    ("entry", "code"),
    [
        ({"foodNutrients": []}, "opendata-no-panel"),
        ({"foodNutrients": "x"}, "opendata-no-panel"),
        ({"foodNutrients": [1, None, {"nutrient": 3}, {"nutrient": {"number": "x"}}]}, "opendata-no-panel"),
        ({"foodNutrients": [{"nutrient": {"number": "268", "unitName": "kJ"}, "amount": 900}]}, "opendata-kilojoules"),
        ({"foodNutrients": [{"nutrient": {"number": "958", "unitName": "KCAL"}, "amount": 90}]}, None),
        ({"foodNutrients": [{"number": 203, "name": "Protein", "amount": 3, "unitName": "G"}]}, None),
        ({"foodNutrients": [{"nutrient": {"number": "203", "unitName": "stone"}, "amount": 3}]}, "opendata-figure"),
        ({"labelNutrients": {"fat": {"value": 3}}, "servingSize": None}, "opendata-serving"),
        ({"labelNutrients": {"fat": 3, "sugars": {"value": "x"}}, "servingSize": 30, "servingSizeUnit": "g"},
         "opendata-figure"),
        ({"servingSizeUnit": "ml", "servingSize": 30}, "opendata-volume"),
    ],
)  # fmt: skip
def test_odd_foods_end_in_a_value_or_say_why_not(served, entry, code):
    """Energy by other numbers or in kilojoules, abridged forms, odd units, wrong types."""
    served.replies["/v1/food/1"] = lambda handler: send(handler, {"fdcId": 1, "description": "Thing"} | entry)
    found = fooddata.food("1")
    assert code is None or code in codes(found)
    assert found.food.source.startswith("FoodData Central 1")
    complete(found.food)


def test_a_search_lists_what_can_be_looked_over(served):
    """Ids, descriptions, kinds and brands; broken entries are passed over."""
    served.replies["/v1/foods/search"] = lambda handler: send(
        handler,
        {
            "totalHits": 3,
            "foods": [{"fdcId": 1, "description": "Oil, sesame", "dataType": "SR Legacy"}, {"fdcId": "x"}, 3],
        },
    )
    hits = fooddata.search("sesame oil")
    assert [(hit.id, hit.description, hit.kind) for hit in hits] == [("1", "Oil, sesame", "SR Legacy")]
    served.replies["/v1/foods/search"] = lambda handler: send(handler, {"foods": {}})
    assert "something else" in refused(fooddata.search, "other words")
    assert "say what" in refused(fooddata.search, "  ")


def test_keys_that_are_missing_or_refused_are_one_line(served, monkeypatch):
    """No key, a key that is none, a key that the service does not take."""
    served.replies["/v1/food/2"] = lambda handler: send(handler, {"error": {"code": "API_KEY_INVALID"}}, status=403)
    assert fooddata.KEY in refused(fooddata.food, "2")
    monkeypatch.setenv(fooddata.KEY, "two words")
    assert "no key" in refused(fooddata.food, "2")
    monkeypatch.delenv(fooddata.KEY)
    assert fooddata.KEY in refused(fooddata.food, "2")
    assert "no id" in refused(fooddata.food, "../../x")


def test_nothing_enters_the_larder_that_the_cook_has_not_accepted(served, tmp_path, monkeypatch, capsys):
    """Shown and not kept; kept with --keep under the cook's own name; shown as JSON."""
    monkeypatch.chdir(tmp_path)
    place = tmp_path / "larder.toml"

    def run(*arguments):
        with pytest.raises(SystemExit) as left:
            main(["opendata", *arguments])
        said = capsys.readouterr()
        return left.value.code, said.out, said.err

    status, out, err = run("pack", CODE, "--larder", str(place))
    assert status == 0 and "ODbL" in out and "not kept" in err and not place.exists()
    status, out, _ = run("pack", CODE, "--larder", str(place), "--name", "oat biscuits", "--keep", "--json")
    assert status == 0 and json.loads(out)["licence"].startswith("Open Database License")
    (food,) = read_larder(str(place))
    assert food.name == "oat biscuits" and food.source.startswith("Open Food Facts") and food.bar_code == CODE
    status, out, _ = run("food", "173414")
    assert status == 0 and "Cheese, cheddar" in out
    status, _, err = run("food", "999")
    assert status == 2 and err.count("\n") == 1


@pytest.mark.parametrize(
    ("given", "text"),
    [(None, ""), (True, ""), (["a"], ""), ("a\u200bb\n c", "ab c"), (3, "3"), ("&lt;b&gt; x", "<b> x")],
)
def test_text_is_cleaned(given, text):
    """Only text and numbers, one line, nothing that cannot be seen."""
    assert clean(given) == text


def test_numbers_and_days_are_read_or_nothing():
    """Numbers as text, days in three ways; endless, negative and other things are None."""
    assert number_of(" 1,5 ") == 1.5 and number_of("nan") is None and number_of(10**400) is None
    assert day_of(0).isoformat() == "1970-01-01" and day_of("4/1/2019").isoformat() == "2019-04-01"
    assert day_of(1e30) is None and day_of("31/31/2019") is None and day_of([]) is None
