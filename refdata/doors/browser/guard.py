"""What stands between the network and the pages: host names, methods, headers, and one version tag for all of it.

An ASGI wrapper around Datasette. `refdata serve` tells it by `plugins: shop-refdata:` which host names it answers to
and whether others than this machine can reach it; without that (somebody's own Datasette) it only adds the headers.
"""

from __future__ import annotations

import hashlib
import ipaddress
import re
from functools import lru_cache
from pathlib import Path
from urllib.parse import parse_qs

from refdata.core import store

SAME = "base-uri 'none'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
OURS = f"default-src 'self'; {SAME}"
THEIRS = (
    "default-src 'self'; script-src 'self' 'unsafe-inline'; style-src 'self' 'unsafe-inline'; img-src 'self' data:;"
    f" {SAME}"
)
DRAWING = "default-src 'none'; style-src 'unsafe-inline'; frame-ancestors 'none'"
# what others on the network may open: pages, answers, tables and their static files; no settings, no debug pages
ALLOWED = re.compile(r"^/(-/refdata([/.].*)?|-/static.*|refdata|refdata\.json|refdata/.*|favicon\.ico|robots\.txt)?$")
OUR_PAGES = re.compile(r"^/(-/refdata.*)?$")
_PACKAGE = Path(__file__).parents[2]


@lru_cache(maxsize=1)
def version_tag() -> str:
    """The entity tag of every answer: the version of the data, and a hash of the code that shows them."""
    digest = hashlib.sha256()
    for path in sorted(p for kind in ("py", "html", "css", "js") for p in _PACKAGE.rglob(f"*.{kind}")):
        digest.update(path.read_bytes())
    return f'"{store.data_version()}.{digest.hexdigest()[:8]}"'


def known_host(header: str, names: list[str]) -> bool:
    """Whether a Host header names this server: one of `names`, or with `*` among them any bare address.

    A page elsewhere can make a browser send any *name* here, but no address: so an address is safe.
    """
    host = re.sub(r":\d+$", "", header).lower().rstrip(".")
    if host in names:
        return True
    try:
        ipaddress.ip_address(host.strip("[]"))
    except ValueError:
        return False
    return "*" in names


def sorted_by_nothing(path: str, query: str) -> str | None:
    """The column that a table page is asked to sort by and does not have; Datasette answers that as its own failure."""
    table = re.fullmatch(r"/refdata/([^/.]+)(?:\.\w+)?", path)
    asked = parse_qs(query)
    wanted = [name for key in ("_sort", "_sort_desc") for name in asked.get(key, [])]
    if not table or not wanted:
        return None
    columns = {name for (name,) in store.select("SELECT name FROM pragma_table_info(?)", table[1])}
    return next((name for name in wanted if columns and name not in columns), None)


class Guard:
    """The wrapper; `hosts` are the names it answers to (None: any), `open_house` whether others can reach it."""

    def __init__(self, app, hosts: list[str] | None, open_house: bool):
        self.app, self.hosts, self.open_house = app, hosts, open_house

    async def __call__(self, scope, receive, send):
        if scope["type"] != "http":
            return await self.app(scope, receive, send)
        given = dict(scope["headers"])
        if self.hosts and not known_host(given.get(b"host", b"").decode("latin-1"), self.hosts):
            return await _refuse(send, 421, "this server does not answer to that host name")
        if scope["method"] not in ("GET", "HEAD"):
            return await _refuse(send, 405, "only GET and HEAD: the tables are read only", (b"allow", b"GET, HEAD"))
        if self.open_house and not ALLOWED.match(scope["path"]):
            return await _refuse(send, 404, "there is nothing here")
        if given.get(b"sec-fetch-site") == b"cross-site" and given.get(b"sec-fetch-mode") != b"navigate":
            return await _refuse(send, 403, "pages elsewhere are not served parts of this one")
        if b"_through=" in scope["query_string"]:  # Datasette fails on what is no JSON there, and nothing here needs it
            return await _refuse(send, 400, "rows are not asked for through another table here")
        if column := sorted_by_nothing(scope["path"], scope["query_string"].decode("latin-1")):
            return await _refuse(send, 400, f'this table has no column "{column}" to sort by')
        await self.app(scope, receive, _Sender(send, scope["path"], given.get(b"if-none-match", b"")))


class _Sender:
    """Sends an answer on with our headers; an unchanged one as 304, an inner failure without its words."""

    def __init__(self, send, path: str, known: bytes):
        self.send, self.path, self.known, self.instead = send, path, known, None

    async def __call__(self, message):
        if message["type"] == "http.response.start":
            message = self._start(message)
        elif self.instead is not None:
            message = message | {"body": self.instead}
            self.instead = b""
        await self.send(message)

    def _start(self, message):
        kind = dict(message["headers"]).get(b"content-type", b"")
        headers = [(n, v) for n, v in message["headers"] if n.lower() not in _SET_HERE]
        headers += [(b"x-content-type-options", b"nosniff"), (b"x-frame-options", b"DENY")]
        headers += [(b"referrer-policy", b"no-referrer"), (b"content-security-policy", _policy(self.path, kind))]
        status, tag = message["status"], version_tag().encode()
        if status == 200:
            headers += [(b"etag", tag), (b"cache-control", b"no-cache")]
            if tag in [one.strip().removeprefix(b"W/") for one in self.known.split(b",")]:
                status, self.instead = 304, b""
        elif status == 500:
            self.instead = b"Something went wrong here; the server's own log says what."
            headers = [(n, v) for n, v in headers if n != b"content-type"] + [_PLAIN]
        else:
            headers.append((b"cache-control", b"no-store"))
        if self.instead is not None:
            headers = [(n, v) for n, v in headers if n != b"content-length"]
        return message | {"status": status, "headers": headers}


_PLAIN = (b"content-type", b"text/plain; charset=utf-8")
_SET_HERE = (b"etag", b"cache-control", b"x-frame-options", b"referrer-policy", b"content-security-policy", b"link")


def _policy(path: str, kind: bytes) -> bytes:
    if kind.startswith(b"image/svg"):
        return DRAWING.encode()
    return (OURS if OUR_PAGES.match(path) else THEIRS).encode()


async def _refuse(send, status: int, says: str, *more) -> None:
    headers = [_PLAIN, *more, (b"x-content-type-options", b"nosniff"), (b"cache-control", b"no-store")]
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": f"{says}\n".encode()})
