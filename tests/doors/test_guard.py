"""What the server refuses, and the headers on what it gives: the application that `serve` runs, asked in process."""

import asyncio

import httpx
import pytest

from refdata.core import store
from refdata.doors.serve import site


def asker(host: str, names=(), base: str = "http://127.0.0.1:8001"):
    application = site(host, names)

    def ask(path, method="GET", **headers):
        async def one():
            transport = httpx.ASGITransport(app=application, raise_app_exceptions=False)
            async with httpx.AsyncClient(transport=transport, base_url=base) as client:
                return await client.request(method, path, headers=headers)

        return asyncio.run(one())

    return ask


@pytest.fixture(scope="module")
def alone():
    return asker("127.0.0.1")


@pytest.fixture(scope="module")
def shop():
    return asker("0.0.0.0", ["bench.lan"], "http://192.168.7.5:8001")


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1.evil.example", "localhost.evil.example", "192.168.7.5", ""]
)
def test_alone_it_answers_to_its_own_names_only(alone, host):
    assert alone("/", host=host).status_code == 421
    assert alone("/", host="localhost:8001").status_code == 200
    assert alone("/", host="[::1]:8001").status_code == 200


def test_on_the_network_it_answers_to_addresses_and_to_names_that_it_was_told(shop):
    """A page elsewhere can make a browser send any name here (DNS rebinding), but never a bare address."""
    assert shop("/", host="bench.lan:8001").status_code == 200
    assert shop("/", host="192.168.7.5:8001").status_code == 200
    assert shop("/", host="evil.example").status_code == 421


@pytest.mark.parametrize(
    "path",
    [
        "/-/plugins", "/-/versions", "/-/threads", "/-/settings", "/-/metadata", "/-/databases", "/-/actor",
        "/-/allow-debug", "/-/permissions", "/-/patterns", "/-/messages", "/-/logout", "/-/auth-token", "/refdata.db",
        "/..%2f..%2fetc/passwd", "/-/static/..%2f..%2f..%2fetc%2fpasswd",
    ],
)  # fmt: skip
def test_nothing_of_the_machine_is_told_to_the_network(shop, path):
    answer = shop(path)
    assert answer.status_code in (400, 403, 404)
    assert "root:" not in answer.text and store.PATH not in answer.text


def test_own_sql_is_for_this_machine_alone(alone, shop):
    query = "/refdata.json?sql=select+1"
    assert alone(query).status_code == 200
    assert shop(query).status_code == 403
    assert shop("/refdata/clearance.json?size=%236").status_code == 200  # a question of ours in SQL stays


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE"])
def test_only_reading(alone, method):
    answer = alone("/-/refdata/clearance.json?size=%236", method)
    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET, HEAD"


@pytest.mark.parametrize(
    ("path", "inline"),
    [("/", False), ("/-/refdata?say=%236", False), ("/-/refdata/hole", False), ("/-/refdata/on/alloy/C36000", False),
     ("/refdata/alloys", True), ("/refdata", True)],
)  # fmt: skip
def test_a_strict_policy_on_our_pages(alone, path, inline):
    headers = alone(path).headers
    policy = headers["content-security-policy"]
    assert policy.startswith("default-src 'self'")
    assert ("unsafe-inline" in policy) == inline
    assert "frame-ancestors 'none'" in policy
    assert (headers["x-frame-options"], headers["x-content-type-options"]) == ("DENY", "nosniff")
    assert headers["referrer-policy"] == "no-referrer"


@pytest.mark.parametrize("path", ["/", "/-/refdata/clearance.json?size=%236", "/-/refdata/tables/gauges.csv"])
def test_what_has_not_changed_is_not_sent_again(alone, path):
    first = alone(path)
    tag = first.headers["etag"]
    assert store.data_version() in tag
    again = alone(path, **{"if-none-match": f'"other", {tag}'})
    assert (again.status_code, again.text) == (304, "")
    assert alone(path, **{"if-none-match": '"other"'}).status_code == 200


def test_an_error_has_no_tag_and_is_not_kept(alone):
    answer = alone("/-/refdata/clearance.json?size=banana")
    assert answer.status_code == 400
    assert "etag" not in answer.headers
    assert answer.headers["cache-control"] == "no-store"


def test_a_failure_inside_tells_nothing(alone, monkeypatch):
    def broken(*_):
        raise OSError(f"cannot read {store.PATH}")

    monkeypatch.setattr("refdata.doors.saying.read", broken)
    answer = alone("/-/refdata?say=%236")
    assert answer.status_code == 500
    assert "Traceback" not in answer.text and store.PATH not in answer.text


def test_endless_sql_is_cut_off(alone):
    endless = "with recursive c(x) as (select 1 union all select x %2B 1 from c) select count(*) from c"
    answer = alone(f"/refdata.json?sql={endless}")
    assert answer.status_code == 400
    assert "interrupted" in answer.text.lower() or "time" in answer.text.lower()


def test_a_page_elsewhere_cannot_use_this_server(alone):
    """A picture or a script of another site carries the right Host; browsers say where it comes from."""
    path = "/-/refdata/clearance.json?size=%236"
    assert alone(path, **{"sec-fetch-site": "cross-site", "sec-fetch-mode": "no-cors"}).status_code == 403
    assert alone(path, **{"sec-fetch-site": "cross-site", "sec-fetch-mode": "navigate"}).status_code == 200
    assert alone(path, **{"sec-fetch-site": "same-origin", "sec-fetch-mode": "cors"}).status_code == 200
    assert alone("/refdata/gauges?_through=%7B").status_code == 400
