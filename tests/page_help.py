"""A page to test: its application asked directly, as a browser would ask it."""

import asyncio
import json

import httpx

from labeler.page.app import make_app
from labeler.page.folder import Folder

PORT, KEY = 8000, "the-key-of-this-start"
HOST = f"http://127.0.0.1:{PORT}"
RECIPE = "---\ntitle: Oat biscuits\nmakes: 12 biscuits\nmarket: uk\n---\n- 200 g rolled oats\n- 100 g butter\n"


class Asked:
    """The page of a folder, with questions as its own scripts ask them.

    Parameters
    ----------
    folder : Path
    cookie : bool
        Whether the browser holds the key.
    """

    def __init__(self, folder, stop=lambda: None, cookie=True):
        self.app = make_app(Folder(folder), port=PORT, key=KEY, stop=stop, warm=False)
        self.cookie = {self.app.cookie: KEY} if cookie else {}

    def request(self, method, path, **more):
        """One request, with its answer."""

        async def send():
            transport = httpx.ASGITransport(self.app, raise_app_exceptions=False)
            async with httpx.AsyncClient(transport=transport, base_url=HOST, cookies=self.cookie) as client:
                return await client.request(method, path, timeout=120, **more)

        return asyncio.run(send())

    def ask(self, path, given, **headers):
        """The answer to a question."""
        sent = {"origin": HOST, "content-type": "application/json"} | headers
        return self.request("POST", path, content=json.dumps(given), headers=sent)

    def send(self, path, content, **headers):
        """The answer to bytes as they are."""
        sent = {"origin": HOST, "content-type": "application/octet-stream"} | headers
        return self.request("POST", path, content=content, headers=sent)

    def get(self, path, **headers):
        """What an address shows."""
        return self.request("GET", path, headers=headers)

    def close(self):
        """Stop the processes that were started."""
        self.app.page.work.stop()
