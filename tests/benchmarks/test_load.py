"""One server process under eight connections for a minute, and beside hundreds that ask nothing. On this machine only;
set REFDATA_LOAD to other seconds."""

import contextlib
import os
import socket
import statistics
import subprocess
import sys
import threading
import time

import httpx
import pytest

SECONDS = float(os.environ.get("REFDATA_LOAD", "60"))
PATHS = [
    "/", "/-/refdata?say=8-32+clearance", "/-/refdata?say=360", "/-/refdata/on/alloy/C36000",
    "/-/refdata/clearance.json?size=%236", "/-/refdata/gauge.json?number=18&metal=brass", "/refdata/gauges",
    "/-/refdata/hole?size=%238&for=wood-screw&in=C46400&thickness=1/8+in", "/-/refdata/tables/gauges.csv",
]  # fmt: skip


@pytest.fixture(scope="module")
def address():
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    server = subprocess.Popen(
        [sys.executable, "-m", "refdata", "serve", "--port", str(port)], stdout=subprocess.DEVNULL
    )
    for _ in range(100):
        try:
            httpx.get(f"http://127.0.0.1:{port}/-/refdata.json")
            break
        except httpx.HTTPError:
            time.sleep(0.1)
    yield "127.0.0.1", port
    server.terminate()
    server.wait(10)


def test_eight_connections_for_a_while(address):
    took, wrong = [], []
    until = time.monotonic() + SECONDS

    def ask(first: int) -> None:
        with httpx.Client(base_url=f"http://{address[0]}:{address[1]}", timeout=20) as client:
            at = first
            while time.monotonic() < until:
                path, begun = PATHS[at % len(PATHS)], time.perf_counter()
                try:
                    answer = client.get(path)
                    if answer.status_code != 200:
                        wrong.append((path, answer.status_code))
                except httpx.HTTPError as problem:
                    wrong.append((path, repr(problem)))
                took.append(time.perf_counter() - begun)
                at += 1

    threads = [threading.Thread(target=ask, args=(n,)) for n in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    told = statistics.quantiles(took, n=100)
    median, slow = 1000 * told[49], 1000 * told[98]
    print(f"{len(took)} answers in {SECONDS:g} s, median {median:.0f} ms, 99th percentile {slow:.0f} ms")
    assert wrong == []


def test_idle_and_slow_connections_are_hung_up_on_and_others_served(address):
    idle = [socket.create_connection(address) for _ in range(150)]
    for one in idle[::2]:
        one.sendall(b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-Slow: ")
    begun = time.perf_counter()
    assert httpx.get(f"http://{address[0]}:{address[1]}/-/refdata/clearance.json?size=%236").status_code == 200
    print(f"beside {len(idle)} silent connections an answer took {1000 * (time.perf_counter() - begun):.0f} ms")
    time.sleep(11)
    closed = 0
    for one in idle:
        one.settimeout(2)
        with contextlib.suppress(ConnectionResetError, TimeoutError):
            closed += one.recv(1000) == b""
        one.close()
    print(f"{closed} of {len(idle)} were hung up on after ten seconds")
    assert closed == len(idle)
