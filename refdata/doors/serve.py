"""`refdata serve [--host --port]`: the tables and the JSON interface in Datasette, read-only and immutable."""

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
    "allow_download": "off",
    "allow_csv_stream": "off",
    "sql_time_limit_ms": "1000",
    "max_returned_rows": "1000",
    "suggest_facets": "off",
}


def main(arguments: list[str]) -> int:
    """Serve until interrupted. Raises NotUnderstood for a port that is taken or not a port."""
    given = _arguments(arguments)
    if not Path(store.PATH).exists():
        raise NoDatabase(f"there is no database at {store.PATH}: run python -m build_db in the checkout")
    _check_port(given.host, given.port)
    settings = SETTINGS | ({} if given.host in LOOPBACK else {"default_allow_sql": "off"})
    command = ["serve", "-i", store.PATH, "-m", str(metadata()), "--host", given.host, "--port", str(given.port)]
    for name, value in settings.items():
        command += ["--setting", name, value]
    print(f"Shop reference data at http://{given.host}:{given.port}  (Ctrl-C ends it)", flush=True)
    from datasette.cli import cli

    cli.main(command, prog_name="refdata", standalone_mode=False)
    return 0


def metadata() -> Path:
    """metadata.yml: inside the installed package, or at the top of the checkout."""
    package = Path(store.PATH).parent
    inside = package / "metadata.yml"
    return inside if inside.exists() else package.parent / "metadata.yml"


def _arguments(arguments: list[str]) -> argparse.Namespace:
    parser = Parser("refdata serve", description="Serve the tables and the JSON interface on this machine.")
    parser.add_argument("--host", default="127.0.0.1", help="address to listen on; 127.0.0.1 is this machine alone")
    parser.add_argument("--port", default="8001", help="port to listen on, 8001 by default")
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
