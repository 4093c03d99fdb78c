"""The running server keeps to its owner: address, origin, form tokens, headers, sizes, and no word of its insides.

The measures are those of the OWASP cheat sheets (cross-site request forgery, HTTP headers, content security policy).
"""

from __future__ import annotations

import http.client
import re
from pathlib import Path

import pytest

from labelkit.errors.page import PortTaken
from labelkit.page.security import LARGEST_UPLOAD
from labelkit.page.serve import Server
from tests.page.conftest import desk_at


def ask(server, method: str, path: str, body: str | bytes | None = None, **headers):
    """One request exactly as given; the answer with its body."""
    wire = http.client.HTTPConnection("127.0.0.1", server.port, timeout=20)
    names = {name.replace("_", "-"): value for name, value in headers.items()}
    wire.putrequest(method, path, skip_host="Host" in names, skip_accept_encoding=True)
    if body is not None and "Content-Length" not in names:
        names["Content-Length"] = str(len(body))
    if body is not None and "Content-Type" not in names:
        names["Content-Type"] = "application/x-www-form-urlencoded"
    for name, value in names.items():
        wire.putheader(name, value)
    wire.endheaders(body.encode() if isinstance(body, str) else body)
    answer = wire.getresponse()
    answer.text = answer.read().decode("utf-8", "replace")
    wire.close()
    return answer


@pytest.fixture
def visitor(served):
    """A cookie and its token, as a browser gets them from the first page."""
    page = ask(served, "GET", "/start")
    cookie = page.getheader("Set-Cookie").partition(";")[0]
    return {"Cookie": cookie, "token": re.search(r'name="token" value="([^"]+)"', page.text)[1]}


def begin(served, visitor, **headers):
    body = f"token={visitor['token']}&market=us&name=Hollow"
    return ask(served, "POST", "/start", body, Cookie=visitor["Cookie"], **headers)


@pytest.mark.parametrize(
    "host", ["evil.example", "127.0.0.1", "127.0.0.1:1", "127.0.0.1.evil.example:{port}", "", "[::2]:{port}"]
)
def test_another_hosts_name_is_not_answered(served, host):
    answer = ask(served, "GET", "/start", Host=host.format(port=served.port))
    assert answer.status == 421
    assert (
        "which is not its address" if host else "without an address"
    ) in answer.text and "Begin a season" not in answer.text


@pytest.mark.parametrize("host", ["127.0.0.1:{port}", "localhost:{port}", "[::1]:{port}"])
def test_its_own_names_are_answered(served, host):
    assert ask(served, "GET", "/start", Host=host.format(port=served.port)).status == 200


@pytest.mark.parametrize(
    "origin", ["https://evil.example", "null", "http://127.0.0.1:1", "http://localhost.evil.example"]
)
def test_a_form_sent_by_another_site_books_nothing(served, visitor, tmp_path, origin):
    answer = begin(served, visitor, Origin=origin)
    assert answer.status == 403 and "Nothing was saved" in answer.text
    assert not (tmp_path / "season.labelkit").exists()


def test_a_browser_that_says_cross_site_is_believed(served, visitor):
    assert begin(served, visitor, Sec_Fetch_Site="cross-site").status == 403


@pytest.mark.parametrize("token", ["", "guess", "%00", "a" * 5000])
def test_a_form_without_the_sessions_token_books_nothing(served, visitor, tmp_path, token):
    answer = ask(served, "POST", "/start", f"token={token}&market=us&name=Hollow", Cookie=visitor["Cookie"])
    assert answer.status == 403
    assert not (tmp_path / "season.labelkit").exists()


def test_a_token_without_its_session_is_worth_nothing(served, visitor):
    assert ask(served, "POST", "/start", f"token={visitor['token']}&market=us&name=Hollow").status == 403
    forged = ask(served, "POST", "/start", "token=&market=us&name=Hollow", Cookie=f"labelkit-{served.port}=forged")
    assert forged.status == 403


def test_its_own_form_is_taken(served, visitor, tmp_path):
    origin = f"http://127.0.0.1:{served.port}"
    assert begin(served, visitor, Origin=origin, Sec_Fetch_Site="same-origin").status == 303
    assert (tmp_path / "season.labelkit").exists()


def test_the_session_cookie_is_out_of_reach_of_scripts_and_other_sites(served):
    cookie = ask(served, "GET", "/start").getheader("Set-Cookie")
    assert "HttpOnly" in cookie and "SameSite=Strict" in cookie and cookie.startswith(f"labelkit-{served.port}=")


@pytest.mark.parametrize(
    "path", ["/start", "/nowhere", "/face/sans-Regular-latin.woff2", "/file/x/page.js", "/file/x/page.css"]
)
def test_every_answer_forbids_the_browser_what_it_does_not_need(served, path):
    answer = ask(served, "GET", path)
    policy = answer.getheader("Content-Security-Policy")
    assert "default-src 'none'" in policy and "script-src 'self'" in policy and "frame-ancestors 'none'" in policy
    assert "unsafe" not in policy and "http" not in policy and "*" not in policy
    assert answer.getheader("X-Content-Type-Options") == "nosniff"
    assert answer.getheader("X-Frame-Options") == "DENY"
    assert answer.getheader("Referrer-Policy") == "same-origin"
    assert answer.getheader("Cross-Origin-Resource-Policy") == "same-origin"
    assert answer.getheader("Access-Control-Allow-Origin") is None
    assert answer.getheader("Server") is None


def test_no_page_holds_a_script_or_style_of_its_own(served, visitor):
    begin(served, visitor)
    for path in (
        "/",
        "/weigh",
        "/drain",
        "/blend",
        "/prices",
        "/plan",
        "/bottle",
        "/labels",
        "/words",
        "/sell",
        "/trace",
        "/record",
        "/start",
    ):
        page = ask(served, "GET", path, Cookie=visitor["Cookie"]).text
        assert page.count("<script") == 1 and 'src="/file/' in page
        assert not re.search(r"<style|\sstyle=|\son[a-z]+=|javascript:|https?://", page), path


def test_a_question_from_another_origin_gets_no_leave(served):
    answer = ask(served, "OPTIONS", "/start", Origin="https://evil.example", Access_Control_Request_Method="POST")
    assert not [name for name, _ in answer.getheaders() if name.lower().startswith("access-control")]


def test_more_than_a_table_of_buckets_is_not_taken(served, visitor):
    begin(served, visitor)
    body = f"token={visitor['token']}&bucket=" + "x" * (LARGEST_UPLOAD + 1)
    answer = ask(served, "POST", "/weigh", body, Cookie=visitor["Cookie"])
    assert answer.status == 413 and "2048 kB" in answer.text


@pytest.mark.parametrize(
    "path",
    [
        "/file/x/../../pyproject.toml",
        "/file/x/%2e%2e%2f%2e%2e%2fpyproject.toml",
        "/face/..%2fsans-Regular-latin.woff2",
        "/prices/..%2fx.pdf",
        "/face/sans-Black-latin.woff2",
    ],
)
def test_only_its_own_few_files_are_given_out(served, visitor, path):
    begin(served, visitor)
    answer = ask(served, "GET", path)
    assert answer.status == 404 and "build-system" not in answer.text


def test_an_uploads_file_name_is_never_used(served, visitor, tmp_path):
    begin(served, visitor)
    parts = [
        f'--b\r\nContent-Disposition: form-data; name="token"\r\n\r\n{visitor["token"]}\r\n',
        '--b\r\nContent-Disposition: form-data; name="table"; filename="../../taken-from-the-browser.csv"\r\n'
        "Content-Type: text/csv\r\n\r\nbucket,net\nB1,twelve\n\r\n--b--\r\n",
    ]
    answer = ask(
        served,
        "POST",
        "/weigh/file",
        "".join(parts),
        Cookie=visitor["Cookie"],
        Content_Type="multipart/form-data; boundary=b",
    )
    assert answer.status == 422
    assert "Your file" in answer.text and "taken-from-the-browser" not in answer.text and "/tmp" not in answer.text
    assert not list(tmp_path.rglob("*taken-from-the-browser*"))


def test_putting_right_sends_nobody_to_another_site(served, visitor):
    begin(served, visitor)
    weigh = f"token={visitor['token']}&bucket=B1&net=12+kg"
    for n, back in enumerate(("https://evil.example", "//evil.example", "/%5Cevil.example", "/%5C/evil.example")):
        ask(served, "POST", "/weigh", weigh.replace("B1", f"B{n}"), Cookie=visitor["Cookie"])
        seq = re.search(r'name="event" value="(\d+)"', ask(served, "GET", "/", Cookie=visitor["Cookie"]).text)[1]
        undone = ask(
            served,
            "POST",
            "/correct",
            f"token={visitor['token']}&event={seq}&back={back}&because=misread&net=13+kg",
            Cookie=visitor["Cookie"],
        )
        assert undone.status == 303 and undone.getheader("Location") == "/record"


def test_a_fault_of_its_own_is_told_without_its_insides(hand, monkeypatch):
    from labelkit.season import SeasonContext

    hand.begin()
    monkeypatch.setattr(SeasonContext, "reading", lambda *_: 1 / 0)
    answer = hand.get("/")
    assert answer.status_code == 500
    assert "stopped because of an internal error" in answer.text
    assert "Traceback" not in answer.text and "season.py" not in answer.text


@pytest.mark.parametrize(
    ("method", "path"),
    [("DELETE", "/weigh"), ("PUT", "/start"), ("POST", "/plan"), ("GET", "/weigh/file"), ("TRACE", "/start")],
)
def test_other_methods_are_refused(served, visitor, method, path):
    begin(served, visitor)
    answer = ask(
        served, method, path, f"token={visitor['token']}" if method != "GET" else None, Cookie=visitor["Cookie"]
    )
    assert answer.status in (403, 404, 405)


def test_it_listens_to_this_machine_alone(served):
    assert served.address.startswith("http://127.0.0.1:")
    assert [held.getsockname()[0] for held in served._sockets] == ["127.0.0.1"]


def test_a_port_that_is_taken_is_said(served, tmp_path):
    with pytest.raises(PortTaken) as told:
        Server(desk_at(tmp_path), served.port)
    assert str(served.port) in told.value.what


def test_the_sample_is_thrown_away_with_all_its_files(hand):
    from labelkit.page.request_context import KEY

    assert hand.send("/sample", {}, "/start").status_code == 303
    samples = hand.client.application.extensions[KEY].samples
    folder = Path(next(iter(samples._held.values())).folder.name)
    assert folder.exists() and "invented season" in hand.get("/").text
    assert hand.send("/weigh", {"bucket": "T1", "net": "5 kg", "gross": "", "tare": ""}).status_code == 303
    assert not Path(hand.record).exists()
    hand.send("/sample/away", {}, "/")
    assert not folder.exists()
    assert hand.get("/").headers["Location"] == "/start"
