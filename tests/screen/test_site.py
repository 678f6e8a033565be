"""The door: who may ask, from where, how much; and what is answered."""

from pathlib import Path

import pytest
from asking import HOST, THERE, Reply, ask
from room_maker import Tent
from starlette.types import ASGIApp

from assistant.base.errors import EarsMissing
from assistant.hear.heard import Ears
from assistant.say.voice import SilentVoice
from assistant.screen.guard import COOKIE, LARGEST_BODY
from assistant.screen.house import House
from assistant.screen.network import HERE
from assistant.screen.pairing import TRIES, Pairing
from assistant.screen.site import Host, site
from assistant.screen.speech import Speech

CODE = "ABCDEFGH"
OURS = {"origin": f"http://{HOST}"}
PRIVATE = ("/api/larder", "/api/batches", "/api/pairing", "/speech/00.wav", "/label/x.pdf")


async def _no_ears() -> Ears:
    raise EarsMissing("no ears here")


@pytest.fixture
def tent(tmp_path: Path) -> Tent:
    return Tent(tmp_path)


@pytest.fixture
def app(tent: Tent) -> ASGIApp:
    return _site(tent)


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> ASGIApp:
    """For tests that leave nothing behind."""
    return _site(Tent(tmp_path_factory.mktemp("door")))


def _site(tent: Tent) -> ASGIApp:
    letters = iter(CODE * 9)
    pairing = Pairing(b"k" * 32, lambda: 1e6, choose=lambda _: next(letters))
    house = House(tent.journal, tent.clock, Speech(SilentVoice()))
    names = {*HERE, "teahut.local"}
    return site(Host(house, _no_ears, names, pairing, "http://192.168.7.2:8747/"))


def _paired(app: ASGIApp, code: str = CODE) -> Reply:
    body = f'{{"code": "{code}"}}'.encode()
    headers = {"host": "teahut.local:8747", "origin": "http://teahut.local:8747"}
    return ask(app, "/api/pair", method="POST", headers=headers, body=body, client=THERE)


@pytest.mark.parametrize(
    "host",
    [
        "evil.example:8747",
        "127.0.0.1.evil.example:8747",
        "127.0.0.1",
        "127.0.0.1:80",
        "",
        "a@127.0.0.1:8747",
        "192.168.7.99:8747",
        "127.0.0.1:8747/x",
        "[::1:8747",
    ],
)
@pytest.mark.parametrize("path", ["/", "/api/me", "/api/larder"])
def test_a_name_that_is_not_ours_is_refused(door: ASGIApp, host: str, path: str) -> None:
    """DNS rebinding: somebody else's name that points to this machine."""
    assert ask(door, path, headers={"host": host}).status == 421


@pytest.mark.parametrize("name", ["127.0.0.1", "localhost", "LOCALHOST", "teahut.local"])
def test_our_names_are_answered(door: ASGIApp, name: str) -> None:
    assert ask(door, "/", headers={"host": f"{name}:8747"}).status == 200


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "https://evil.example"},
        {"origin": "http://127.0.0.1:9999"},
        {"origin": "https://127.0.0.1:8747"},
        {"origin": "null"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site", **OURS},
    ],
)
@pytest.mark.parametrize("kind", ["http", "websocket"])
def test_other_sites_are_refused(door: ASGIApp, headers: dict[str, str], kind: str) -> None:
    path = "/api/larder" if kind == "http" else "/live?batch=x"
    assert ask(door, path, headers=headers, kind=kind).status == 403


@pytest.mark.parametrize("method", ["POST", "PUT", "DELETE"])
def test_nothing_is_sent_here_without_an_origin(door: ASGIApp, method: str) -> None:
    assert ask(door, "/api/batches", method=method, body=b"{}").status == 403


def test_a_live_line_needs_our_origin(app: ASGIApp, tent: Tent) -> None:
    path = f"/live?batch={tent.id}"
    assert ask(app, path, kind="websocket").status == 403
    assert ask(app, path, kind="websocket", headers=OURS).status == 101


@pytest.mark.parametrize("path", PRIVATE)
def test_a_device_that_is_not_paired_gets_nothing(door: ASGIApp, path: str) -> None:
    assert ask(door, path, client=THERE).status == 401
    made_up = {"cookie": f"{COOKIE}=made.up.cookie"}
    assert ask(door, path, client=THERE, headers=made_up).status == 401
    assert ask(door, "/live", client=THERE, headers=OURS, kind="websocket").status == 403


def test_without_pairing_only_this_machine_may_come_in(tent: Tent) -> None:
    alone = site(Host(House(tent.journal, tent.clock), _no_ears, set(HERE)))
    assert ask(alone, "/api/larder").status == 200
    assert ask(alone, "/api/larder", client=THERE).status == 401
    assert _paired(alone).status == 421
    post = {"method": "POST", "headers": OURS, "body": b'{"code": "ABCDEFGH"}'}
    assert ask(alone, "/api/pair", client=THERE, **post).status == 403  # type: ignore[arg-type]


def test_a_code_becomes_a_cookie_that_lets_in(app: ASGIApp) -> None:
    reply = _paired(app)
    assert reply.status == 200
    cookie = reply.headers["set-cookie"]
    for part in ("HttpOnly", "SameSite=strict", "Path=/", "Max-Age="):
        assert part in cookie
    headers = {"cookie": cookie.partition(";")[0]}
    assert ask(app, "/api/larder", client=THERE, headers=headers).status == 200
    assert ask(app, "/api/me", client=THERE, headers=headers).json()["known"]


def test_guessing_is_slowed_down(app: ASGIApp) -> None:
    statuses = [_paired(app, "WRONGONE").status for _ in range(TRIES)]
    assert statuses == [403] * TRIES
    assert _paired(app).status == 429


def test_the_code_is_shown_at_this_machine_only(app: ASGIApp) -> None:
    assert ask(app, "/api/pairing").json()["code"] == "ABCD EFGH"
    cookie = {"cookie": _paired(app).headers["set-cookie"].partition(";")[0]}
    assert ask(app, "/api/pairing", client=THERE, headers=cookie).status == 403


def test_devices_are_listed_and_removed_one_by_one_at_this_machine_only(app: ASGIApp) -> None:
    agent = {"user-agent": "Mozilla/5.0 (Linux; Android 14)"}
    cookies = [{"cookie": _paired(app).headers["set-cookie"].partition(";")[0]} for _ in "12"]
    for cookie in cookies:
        assert ask(app, "/api/me", client=THERE, headers={**cookie, **agent}).json()["known"]
    listed = ask(app, "/api/devices").json()["devices"]
    assert len(listed) == 2
    assert ask(app, "/api/devices", client=THERE, headers=cookies[0]).status == 400
    body = f'{{"device": "{listed[0]["id"]}"}}'.encode()
    told = ask(app, "/api/devices", method="POST", headers=OURS, body=body).json()
    assert [each["id"] for each in told["devices"]] == [listed[1]["id"]]
    known = [ask(app, "/api/larder", client=THERE, headers=each).status for each in cookies]
    assert sorted(known) == [200, 401]
    again = ask(app, "/api/devices", method="POST", headers=OURS, body=body)
    assert again.status == 400


@pytest.mark.parametrize("told", [str(LARGEST_BODY + 1), "-1", "many"])
def test_a_large_body_is_refused_by_what_it_says(door: ASGIApp, told: str) -> None:
    headers = {**OURS, "content-length": told}
    assert ask(door, "/api/batches", method="POST", headers=headers).status == 413


def test_a_large_body_is_cut_off_when_it_says_nothing(door: ASGIApp) -> None:
    body = b"x" * (LARGEST_BODY + 1)
    assert ask(door, "/api/batches", method="POST", headers=OURS, body=body).status == 413


def test_every_answer_says_what_a_browser_may_do(door: ASGIApp) -> None:
    for path in ("/", "/page/kitchen.js", "/api/me", "/nowhere"):
        headers = ask(door, path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"


@pytest.mark.parametrize(
    "path", ["/page/../site.py", "/page/%2e%2e/site.py", "/page/", "/page/x.js", "/speech/../x.wav"]
)
def test_only_the_pages_own_files_are_sent(door: ASGIApp, path: str) -> None:
    assert ask(door, path).status == 404


def test_a_batch_begins_with_a_recipe_that_comes_along(app: ASGIApp, tent: Tent) -> None:
    def begin(name: str) -> Reply:
        body = f'{{"recipe": "{name}", "id": "wish-{name[:5].strip("./")}"}}'.encode()
        return ask(app, "/api/batches", method="POST", headers=OURS, body=body)

    made = begin("plain-syrup")
    assert made.status == 200
    assert made.json()["batch"] in [row.id for row in tent.journal.batches()]
    for name in ("../pyproject.toml", "nothing", "/etc/x.toml"):
        assert begin(name).status == 400


def test_the_further_pages_show_what_the_commands_do(app: ASGIApp, tent: Tent) -> None:
    tent.all(["2 kg of raspberries"])
    batch = ask(app, f"/api/batches/{tent.id}").json()
    assert any("raspberry" in line for line in batch["lines"])
    assert batch["curve"] is None
    assert ask(app, "/api/batches/none").status == 400
    assert ask(app, "/api/larder").json()["lines"][0]["text"] == "There is nothing in store."
    (row,) = ask(app, "/api/batches").json()["batches"]
    assert row == {
        "batch": tent.id,
        "title": "Lightly heated berry syrup, raspberry",
        "begun": "2026-07-11T14:00:00+00:00",
        "standing": "at Crush",
        "open": True,
    }
    assert ask(app, "/api/me").json()["batch"] == tent.id


OPENED = {"accept": "text/html,application/xhtml+xml"}


@pytest.mark.parametrize(
    ("path", "status", "words"),
    [("/nowhere", 404, "no such page"), ("/label/none.pdf", 400, "no such batch")],
)
def test_what_can_not_be_opened_is_told_on_a_page_with_a_way_back(
    door: ASGIApp, path: str, status: int, words: str
) -> None:
    reply = ask(door, path, headers=OPENED)
    assert reply.status == status
    assert reply.headers["content-type"].startswith("text/html")
    page = reply.body.decode()
    assert words in page
    assert 'href="/batches"' in page
    assert ask(door, path).headers["content-type"] != reply.headers["content-type"]
