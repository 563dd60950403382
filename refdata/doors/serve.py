"""`refdata serve [--host --port --name]`: pages, tables and the JSON interface in Datasette, read-only."""

from __future__ import annotations

import argparse
import socket
from pathlib import Path

from refdata.core import store
from refdata.core.errors import NoDatabase, NotUnderstood

from .command import Parser

LOOPBACK = ("127.0.0.1", "localhost", "::1")
# Datasette settings for one shop: no download of the file, no endless queries
SETTINGS = {
    "allow_download": False,
    "allow_csv_stream": False,
    "sql_time_limit_ms": 1000,
    "max_returned_rows": 1000,
    "suggest_facets": False,
    "num_sql_threads": 3,
}
PATIENCE = 10  # seconds that a connection has for sending its question
CONNECTIONS = 200  # more at once are told to come back


def main(arguments: list[str]) -> int:
    """Serve until interrupted. Raises NotUnderstood for a port that is taken or not a port."""
    given = _arguments(arguments)
    if not Path(store.PATH).exists():
        raise NoDatabase(f"there is no database at {store.PATH}: run python -m build_db in the checkout")
    _check_port(given.host, given.port)
    print(f"Shop reference data at http://{given.host}:{given.port}  (Ctrl-C ends it)", flush=True)
    import uvicorn

    uvicorn.run(
        site(given.host, given.name),
        host=given.host, port=given.port, http=_patient_protocol(), log_level="warning", server_header=False,
        timeout_keep_alive=5, limit_concurrency=CONNECTIONS, h11_max_incomplete_event_size=16_384,
    )  # fmt: skip
    return 0


def site(host: str = "127.0.0.1", names=()):
    """The ASGI application as `serve` runs it on `host`, answering to further host `names`."""
    import yaml
    from datasette.app import Datasette

    beyond = host not in LOOPBACK
    words = yaml.safe_load(metadata().read_text(encoding="utf-8"))
    hosts = [*LOOPBACK, "[::1]", *(name.lower() for name in names)]
    if beyond:
        hosts += [host, "*", *_own_names()]
    words["plugins"] = {"shop-refdata": {"hosts": hosts, "open_house": beyond}}
    settings = SETTINGS | ({"default_allow_sql": False} if beyond else {})
    return Datasette([], immutables=[store.PATH], metadata=words, settings=settings).app()


def _own_names() -> list[str]:
    name = socket.gethostname().lower()
    return [name, f"{name}.local"]


def _patient_protocol():
    """uvicorn's protocol, which hangs up on a connection that has asked nothing whole for PATIENCE seconds."""
    from uvicorn.protocols.http.h11_impl import H11Protocol

    class Patient(H11Protocol):
        def connection_made(self, transport):
            super().connection_made(transport)
            self._watch()

        def _watch(self, last=()):
            idle = self.cycle is None or self.cycle.response_complete
            if idle and self.cycle is last:
                self.transport.close()
            else:
                self.hang_up = self.loop.call_later(PATIENCE, self._watch, self.cycle)

        def connection_lost(self, exc):
            self.hang_up.cancel()
            super().connection_lost(exc)

    return Patient


def metadata() -> Path:
    """metadata.yml: inside the installed package, or at the top of the checkout."""
    package = Path(store.PATH).parent
    inside = package / "metadata.yml"
    return inside if inside.exists() else package.parent / "metadata.yml"


def _arguments(arguments: list[str]) -> argparse.Namespace:
    parser = Parser("refdata serve", description="Serve the pages, the tables and the JSON interface.")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 127.0.0.1 is this machine alone")
    parser.add_argument("--port", default="8001", help="port to listen on, 8001 by default")
    parser.add_argument("--name", action="append", default=[], help="a host name that others reach this machine by")
    given = parser.parse_args(arguments)
    if not (given.port.isascii() and given.port.isdigit() and 0 < int(given.port) < 65536):
        raise NotUnderstood(f'"{given.port}" is not a port', ["8001", "8080"])
    given.port = int(given.port)
    return given


def _check_port(host: str, port: int) -> None:
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except (OSError, OverflowError) as problem:
            raise NotUnderstood(
                f"cannot listen on {host} port {port}: {problem.strerror or problem}", [port + 1]
            ) from None
