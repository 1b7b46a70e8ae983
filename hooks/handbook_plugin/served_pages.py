"""Between MkDocs's server and a browser: each page with what its author is to know, and none kept by the browser."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

from reckoner.editions.served_page import with_faults, with_reload_allowed

Headers = list[tuple[str, str]]
#: A WSGI application.
App = Callable[[dict[str, Any], Any], Iterable[bytes]]


def with_notices(app: App, faults: Callable[[], tuple[str, ...]]) -> App:
    """The application, its HTML with the faults that stand at the moment."""

    def answer(environ: dict[str, Any], start_response: Any) -> Iterable[bytes]:
        begun: list[tuple[str, Headers]] = []
        body = app(environ, lambda status, headers, _=None: begun.append((status, headers)))
        status, headers = begun[-1]
        if not _is_html(headers):
            start_response(status, headers)
            return body
        html = b"".join(body)
        if close := getattr(body, "close", None):
            close()
        # Bytes that are no UTF-8 go out as they came in.
        page = html.decode("utf-8", "surrogateescape")
        sent = with_faults(with_reload_allowed(page), faults()).encode("utf-8", "surrogateescape")
        kept = [(name, value) for name, value in headers if name.lower() not in {"content-length", "cache-control"}]
        start_response(status, [*kept, ("Content-Length", str(len(sent))), ("Cache-Control", "no-store")])
        return [sent]

    return answer


def _is_html(headers: Headers) -> bool:
    return any(name.lower() == "content-type" and value.startswith("text/html") for name, value in headers)
