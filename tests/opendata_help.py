"""A local server that plays both services of open food data, from their published schemas."""

from __future__ import annotations

import json
import socket
import threading
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

import pytest

from labeler.open_data import fooddata, foodfacts
from labeler.open_data import http_client as net
from labeler.types import LabelerError

CODE = "4006381333931"
ROUND = f"/api/v2/product/{CODE}.json"
FAR = "Fri, 31 Dec 2099 23:59:59 GMT"

# A package in the shape of the published product schema (docs/api/ref/schemas/product_nutrition); invented.
GOOD = {
    "code": CODE,
    "product_name": "Oat biscuits",
    "brands": "Marram Bakehouse, Other",
    "quantity": "300 g",
    "product_quantity_unit": "g",
    "nutrition_data_per": "100g",
    "nutriments": {
        "energy-kj_value": 1950, "energy-kj_unit": "kJ", "energy-kcal_value": 466, "energy-kcal_unit": "kcal",
        "fat_value": 19.2, "fat_unit": "g", "saturated-fat_value": 8, "saturated-fat_unit": "g",
        "carbohydrates_value": 63, "carbohydrates_unit": "g", "sugars_value": 21, "sugars_unit": "g",
        "fiber_value": 5.4, "fiber_unit": "g", "proteins_value": 7.6, "proteins_unit": "g",
        "salt_value": 0.9, "salt_unit": "g", "sodium_value": 0.36, "sodium_unit": "g",
    },
    "ingredients_text_en": "Oat flakes 52 %, sugar, _butter_ (milk), <span class='allergen'>wheat</span> flour",
    "lang": "en",
    "allergens_tags": ["en:oats", "en:milk", "en:wheat"],
    "traces_tags": ["en:nuts"],
    "last_modified_t": 1767225600,
}  # fmt: skip

# In the shape of BrandedFoodItem of the published specification; figures of the label worked back as the service does.
BRANDED = {
    "fdcId": 534358, "dataType": "Branded", "description": "SEED MIX", "brandOwner": "Marram Mills",
    "gtinUpc": "036000291452", "servingSize": 28, "servingSizeUnit": "g", "householdServingFullText": "1/4 cup",
    "ingredients": "SUNFLOWER SEEDS, SESAME SEEDS, SALT.", "publicationDate": "4/1/2019", "modifiedDate": "8/18/2018",
    "labelNutrients": {
        "fat": {"value": 8.9992}, "saturatedFat": {"value": 0.9996}, "transFat": {"value": 0}, "sodium": {"value": 0},
        "carbohydrates": {"value": 12.0008}, "fiber": {"value": 1.988}, "sugars": {"value": 7.9996},
        "protein": {"value": 4.0012}, "calcium": {"value": 19.88}, "iron": {"value": 0.7196},
        "calories": {"value": 140},
    },
    "foodNutrients": [],
}  # fmt: skip
LEGACY = {
    "fdcId": 173414, "dataType": "SR Legacy", "description": "Cheese, cheddar", "ndbNumber": 1009,
    "publicationDate": "4/1/2019",
    "foodNutrients": [
        {"nutrient": {"number": "203", "name": "Protein", "unitName": "g"}, "amount": 22.87},
        {"nutrient": {"number": "204", "name": "Total lipid (fat)", "unitName": "g"}, "amount": 33.31},
        {"nutrient": {"number": "205", "name": "Carbohydrate", "unitName": "g"}, "amount": 3.37},
        {"nutrient": {"number": "208", "name": "Energy", "unitName": "kcal"}, "amount": 404},
        {"nutrient": {"number": "307", "name": "Sodium, Na", "unitName": "mg"}, "amount": 653},
        {"nutrient": {"number": "324", "name": "Vitamin D", "unitName": "IU"}, "amount": 24},
        {"nutrient": {"number": "303", "name": "Iron, Fe", "unitName": "mg"}},
    ],
}  # fmt: skip


@dataclass
class Played:
    """What the server plays: a reply by path, and every request that came."""

    replies: dict = field(default_factory=dict)
    asked: list = field(default_factory=list)
    address: str = ""

    def product(self, **changes):
        """The package of the tests with some fields changed; None takes one out."""
        nutriments = changes.pop("nutriments", None)
        product = {key: value for key, value in (GOOD | changes).items() if value is not None}
        if nutriments is not None:
            product["nutriments"] = nutriments
        self.replies[f"/api/v2/product/{CODE}.json"] = lambda handler: send(
            handler, {"code": CODE, "status": 1, "product": product}
        )


def send(handler, body, status=200, headers=None):
    """Write a reply; text and bytes as they are, anything else as JSON."""
    data = body if isinstance(body, bytes) else body.encode() if isinstance(body, str) else json.dumps(body).encode()
    handler.send_response(status)
    for name, value in ({"Content-Type": "application/json", "Content-Length": len(data)} | (headers or {})).items():
        if value is not None:
            handler.send_header(name, str(value))
    handler.end_headers()
    handler.wfile.write(data)


def serving(tmp_path, monkeypatch):
    """Both services on loopback, with a cache of their own, no waiting, and no way to any other address."""
    played = Played()

    class Handler(BaseHTTPRequestHandler):
        protocol_version = "HTTP/1.1"

        def do_GET(self):
            path = self.path.partition("?")[0]
            played.asked.append((self.path, dict(self.headers)))
            reply = played.replies.get(path)
            try:
                if reply is None:
                    send(self, {"status": 0, "status_verbose": "product not found"}, status=404)
                else:
                    reply(self)
            except (BrokenPipeError, ConnectionResetError):
                pass
            self.close_connection = True

        def log_message(self, *arguments):
            pass

    server = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
    server.daemon_threads = True
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.02}, daemon=True)
    thread.start()
    played.address = f"http://127.0.0.1:{server.server_address[1]}"
    connect = socket.socket.connect

    def guarded(self, address):
        if isinstance(address, tuple) and address[0] not in ("127.0.0.1", "::1"):
            raise AssertionError(f"a test asked {address}")
        return connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", guarded)
    monkeypatch.setenv(foodfacts.PLACE, played.address)
    monkeypatch.setenv(fooddata.PLACE, played.address)
    monkeypatch.setenv(fooddata.KEY, "secret-of-the-test")
    monkeypatch.setenv(net.CACHE_PLACE, str(tmp_path / "cache"))
    monkeypatch.setattr(net, "_sleep", lambda seconds: None)
    monkeypatch.setattr(net, "READ_SECONDS", 0.4)
    played.product()
    played.replies["/v1/food/534358"] = lambda handler: send(handler, BRANDED)
    played.replies["/v1/food/173414"] = lambda handler: send(handler, LEGACY)
    yield played
    server.shutdown()
    server.server_close()
    thread.join(timeout=2)


def refused(call, *arguments, **options):
    """The one line with which a call is refused."""
    with pytest.raises(LabelerError) as error:
        call(*arguments, **options)
    said = str(error.value)
    assert said and "\n" not in said and "secret" not in said
    return said
