"""A server that can be stopped for good, and whose folder can be changed as a host does at an upload."""

from __future__ import annotations

import os
import shutil
import time
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from playwright.sync_api import Page

#: Puts words into the search at once, as a paste does.
TYPE = """words => {
  const field = document.querySelector('.md-search__input');
  document.getElementById('__search').checked = true;
  field.focus();
  field.value = words;
  field.dispatchEvent(new Event('input', { bubbles: true }));
  field.dispatchEvent(new KeyboardEvent('keyup', { bubbles: true }));
}"""
#: Below the server's root: a handbook may stand at any address.
BELOW = "shelf/books"


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: object) -> None:
        """A test server has nothing to say."""


class _Server(ThreadingHTTPServer):
    def handle_error(self, request: object, client_address: object) -> None:
        """A page closed while it was still loading is no fault."""


def server(root: Path) -> ThreadingHTTPServer:
    """A web server for a folder, on a port of its own, not yet answering."""
    return _Server(("127.0.0.1", 0), partial(_Quiet, directory=str(root)))


class Host:
    """A web host with one handbook below its root."""

    def __init__(self, root: Path, site: Path) -> None:
        self.place = root / BELOW
        self._uploaded = time.time() - 24 * 3600
        self.put(site)
        self._server = server(root)
        self._thread = Thread(target=self._server.serve_forever, daemon=True)
        self._thread.start()
        self.origin = f"http://127.0.0.1:{self._server.server_port}/"
        self.address = f"{self.origin}{BELOW}/"

    def put(self, site: Path) -> None:
        """Publish a site in place of the one before.

        Each upload is later than the last by a minute: a browser's question "changed since?" knows seconds only, and
        two small sites are built within one.
        """
        if self.place.exists():
            shutil.rmtree(self.place)
        shutil.copytree(site, self.place)
        self._uploaded += 60
        for path in self.place.rglob("*"):
            os.utime(path, (self._uploaded, self._uploaded))

    def stop(self) -> None:
        """Gone: nothing listens any more."""
        if self._thread.is_alive():
            self._server.shutdown()
            self._thread.join()
            self._server.server_close()


def kept(page: Page) -> None:
    """Wait until the whole handbook is kept and its worker answers."""
    # The pages' policy forbids the eval by which Playwright waits for a condition: a promise does as well.
    page.evaluate(
        "() => navigator.serviceWorker.controller ||"
        "new Promise((done, failed) => { setTimeout(() => failed(new Error('not kept in a minute')), 60000);"
        "navigator.serviceWorker.addEventListener('controllerchange', () => done()); })"
    )


def watch(page: Page) -> tuple[list[str], list[str]]:
    """Addresses that the page asks for, and what its console complains of, from now on."""
    asked: list[str] = []
    complaints: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on(
        "console", lambda message: complaints.append(message.text) if message.type in {"error", "warning"} else None
    )
    page.on("pageerror", lambda error: complaints.append(str(error)))
    return asked, complaints


def search(page: Page, typed: str, found: str) -> None:
    """Type into the search and wait for a result."""
    page.locator(".md-header__button[for=__search]").click()
    page.locator(".md-search__input").press_sequentially(typed)
    page.locator(".md-search-result__item").filter(has_text=found).first.wait_for(timeout=20_000)
