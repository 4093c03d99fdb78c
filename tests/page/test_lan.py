"""On the local network: only where asked, behind a passphrase that cannot be guessed by trying, in sessions that end.

The measures are those of the OWASP cheat sheets on authentication, password storage and session management, and of NIST
SP 800-63B (eight characters at least, compared as composed characters, tries limited).
"""

from __future__ import annotations

import io
import re
import threading
from urllib.parse import quote

import pytest

from labelkit.errors.page import NoLocalNetwork, PassphraseTooShort, PassphraseWrong, TooManyTries
from labelkit.page import lan
from labelkit.page.lan import IDLE_SECONDS, WHOLE_SECONDS, Gate, Tries, in_blocks, local_address, of_a_local_network
from labelkit.page.serve import Server
from tests.page.conftest import desk_at
from tests.page.test_safe import ask

# A loopback address other than the usual one stands for the network: this machine has it, and nobody else reaches it.
NETWORK = "127.0.0.2"
WORDS = "bottle lantern gravel seven"


class Clock:
    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


WORK = dict(lan._WORK)  # as it is kept; the tests themselves take less of it


@pytest.fixture(autouse=True)
def little_work(monkeypatch):
    monkeypatch.setitem(lan._WORK, "n", 2)


def test_a_passphrase_costs_whoever_guesses_as_much_as_is_asked_for_today():
    """One of the pairs of OWASP's cheat sheet on password storage for scrypt, with blocks of 8."""
    assert (WORK["n"], WORK["p"]) in {(2**17, 1), (2**16, 2), (2**15, 3), (2**14, 5), (2**13, 10)} and WORK["r"] == 8


@pytest.fixture
def network(tmp_path):
    server = Server(desk_at(tmp_path), 0, NETWORK, WORDS)
    serving = threading.Thread(target=server.run, daemon=True)
    serving.start()
    yield server
    server.close()
    serving.join(10)


def over(server, method: str, path: str, body: str | None = None, **headers):
    """One request over the network's address."""
    return ask(server, method, path, body, **({"Host": f"{NETWORK}:{server.port}"} | headers))


def question(server, **headers) -> dict[str, str]:
    page = over(server, "GET", "/enter", **headers)
    cookie = page.getheader("Set-Cookie").partition(";")[0]
    return {"Cookie": cookie, "token": re.search(r'name="token" value="([^"]+)"', page.text)[1]}


def come_in(server, words: str = WORDS):
    stranger = question(server)
    answer = over(
        server, "POST", "/enter", f"token={stranger['token']}&passphrase={quote(words)}", Cookie=stranger["Cookie"]
    )
    return stranger, answer, (answer.getheader("Set-Cookie") or "").partition(";")[0]


def test_without_being_asked_it_serves_no_network(served):
    assert served.lan is None
    assert ask(served, "GET", "/enter").status == 404 and ask(served, "GET", "/telephone").status == 404


def test_asked_for_it_listens_at_the_two_addresses_and_no_other(network):
    assert [held.getsockname()[0] for held in network._sockets] == ["127.0.0.1", NETWORK]
    assert network.lan.address == f"http://{NETWORK}:{network.port}/"


PAGES = (
    "/",
    "/weigh",
    "/weigh/look?bucket=B1&net=5",
    "/plan",
    "/labels",
    "/labels/one.png",
    "/looks",
    "/looks/artwork.png",
    "/trace",
    "/record",
    "/record/seal.pdf",
    "/start",
    "/telephone",
    "/telephone/code.svg",
    "/prices/list.pdf",
    "/nowhere",
)


@pytest.mark.parametrize("host", ["127.0.0.1", NETWORK])
def test_a_stranger_sees_no_page_but_the_question(network, host):
    for path in PAGES:
        answer = over(network, "GET", path, Host=f"{host}:{network.port}")
        assert (answer.status, answer.getheader("Location")) == (303, "/enter"), path
    page = over(network, "GET", "/enter", Host=f"{host}:{network.port}")
    assert page.status == 200 and 'type="password"' in page.text and "The season" not in page.text


def test_a_stranger_books_nothing_even_with_a_token(network, tmp_path):
    stranger = question(network)
    for path in ("/start", "/sample", "/weigh", "/correct", "/leave"):
        answer = over(
            network, "POST", path, f"token={stranger['token']}&market=us&name=Hollow", Cookie=stranger["Cookie"]
        )
        assert (answer.status, answer.getheader("Location")) == (303, "/enter"), path
    assert not (tmp_path / "season.labelkit").exists()


def test_a_strangers_script_is_told_and_not_sent_a_page(network):
    answer = over(network, "GET", "/weigh/look", Sec_Fetch_Dest="empty")
    assert answer.status == 401 and "You were signed out" in answer.text


def test_the_style_and_the_typefaces_are_for_everybody(network):
    assert over(network, "GET", "/face/sans-Regular-latin.woff2").status == 200


def test_who_knows_the_passphrase_comes_in_under_a_session_of_their_own(network):
    stranger, answer, cookie = come_in(network)
    assert (answer.status, answer.getheader("Location")) == (303, "/")
    assert cookie and cookie != stranger["Cookie"]
    assert "Begin a season" in over(network, "GET", "/start", Cookie=cookie).text
    # The cookie from before is worth nothing, and neither is the token that was handed out with it.
    assert over(network, "GET", "/start", Cookie=stranger["Cookie"]).status == 303
    body = f"token={stranger['token']}&market=us&name=Hollow"
    assert over(network, "POST", "/start", body, Cookie=cookie).status == 403


def test_the_cookie_of_a_session_is_out_of_reach_of_scripts_and_other_sites(network):
    _, answer, _ = come_in(network)
    told = answer.getheader("Set-Cookie")
    assert "HttpOnly" in told and "SameSite=Strict" in told and "Path=/" in told
    assert WORDS not in told and "bottle" not in told


def test_who_leaves_is_a_stranger_again_even_with_the_old_cookie(network):
    _, _, cookie = come_in(network)
    page = over(network, "GET", "/start", Cookie=cookie)
    later = page.getheader("Set-Cookie").partition(";")[0]
    token = re.search(r'name="token" value="([^"]+)"', page.text)[1]
    assert over(network, "POST", "/leave", f"token={token}", Cookie=later).status == 303
    assert over(network, "GET", "/start", Cookie=later).status == 303


@pytest.mark.parametrize("words", ["", "wrong", WORDS.upper(), WORDS + "x", "x" * 100_000, "\x00"])
def test_another_passphrase_is_refused(network, words):
    _, answer, cookie = come_in(network, words)
    assert answer.status == 403 and "This is not the passphrase" in answer.text
    assert over(network, "GET", "/start", Cookie=cookie).status == 303


def test_guessing_is_slowed_down_and_the_wait_is_said(network):
    network.lan.gate._tries._clock = Clock()
    answers = [come_in(network, f"guess number {n}")[1] for n in range(6)]
    assert [answer.status for answer in answers] == [403] * 4 + [429] * 2
    assert re.search(r"Wait \d seconds?, then try again", answers[-1].text)
    assert 1 <= int(answers[-1].getheader("Retry-After")) <= 2
    # The right one has to wait too, else the wait could be tried away.
    assert come_in(network)[1].status == 429


@pytest.mark.parametrize(
    "host", ["evil.example", "192.168.1.20:{port}", NETWORK, "127.0.0.3:{port}", "robins-context.local:{port}"]
)
def test_a_name_that_is_not_bound_is_not_answered(network, host):
    answer = over(network, "GET", "/enter", Host=host.format(port=network.port))
    assert answer.status == 421 and network.lan.address in answer.text


@pytest.mark.parametrize("origin", ["https://evil.example", "null", "http://127.0.0.1:{port}"])
def test_the_passphrase_from_another_sites_form_is_not_taken(network, origin):
    stranger = question(network)
    body = f"token={stranger['token']}&passphrase={quote(WORDS)}"
    answer = over(network, "POST", "/enter", body, Cookie=stranger["Cookie"], Origin=origin.format(port=network.port))
    assert answer.status == 403 and "was not accepted" in answer.text and "entered" not in answer.text


def test_the_passphrase_without_a_token_is_not_taken(network):
    assert over(network, "POST", "/enter", f"passphrase={quote(WORDS)}").status == 403


def test_the_question_says_nothing_of_the_season(network, tmp_path):
    _, _, cookie = come_in(network)
    page = over(network, "GET", "/start", Cookie=cookie)
    later = page.getheader("Set-Cookie").partition(";")[0]
    token = re.search(r'name="token" value="([^"]+)"', page.text)[1]
    begun = over(network, "POST", "/start", f"token={token}&market=us&name=Secret+Hollow", Cookie=later)
    assert begun.status == 303 and (tmp_path / "season.labelkit").exists()
    for path in ("/enter", "/nowhere"):
        assert "Secret Hollow" not in over(network, "GET", path).text
    assert (
        "Secret Hollow" in over(network, "GET", "/record", Cookie=begun.getheader("Set-Cookie").partition(";")[0]).text
    )


def test_every_answer_on_the_network_forbids_the_browser_what_it_does_not_need(network):
    answer = over(network, "GET", "/enter")
    assert "default-src 'none'" in answer.getheader("Content-Security-Policy")
    assert answer.getheader("Cache-Control") == "no-store"
    assert answer.getheader("Access-Control-Allow-Origin") is None


def test_the_address_and_its_code_are_on_the_page(network):
    from io import BytesIO

    from PIL import Image

    from labelkit.barcodes.matrix import read_codes

    _, _, cookie = come_in(network)
    page = over(network, "GET", "/start", Cookie=cookie)
    begin = page.getheader("Set-Cookie").partition(";")[0]
    token = re.search(r'name="token" value="([^"]+)"', page.text)[1]
    over(network, "POST", "/start", f"token={token}&market=us&name=Hollow", Cookie=begin)
    told = over(network, "GET", "/telephone", Cookie=cookie).text
    assert network.lan.address in told and "unencrypted" in told
    svg = over(network, "GET", "/telephone/code.svg", Cookie=cookie).text
    wide = int(re.search(r'viewBox="0 0 (\d+)', svg)[1])
    drawn = Image.new("L", (wide, wide), 255)
    for x, y in re.findall(r"M(\d+) (\d+)h1v1h-1z", svg):
        drawn.putpixel((int(x), int(y)), 0)
    out = BytesIO()
    drawn.resize((wide * 6, wide * 6), Image.NEAREST).save(out, "PNG")
    assert read_codes(out.getvalue()) == (network.lan.address,)


def test_the_terminals_code_is_read_by_a_scanner():
    from io import BytesIO

    from PIL import Image

    from labelkit.barcodes.matrix import qr, read_codes

    made = qr("http://192.168.1.20:8765/")
    lines = in_blocks(made.rows, made.quiet).splitlines()
    drawn = Image.new("L", (len(lines[0]), 2 * len(lines)), 0)  # a dark terminal
    for y, line in enumerate(lines):
        for x, sign in enumerate(line):
            for half, lit in enumerate({"█": (1, 1), "▀": (1, 0), "▄": (0, 1), " ": (0, 0)}[sign]):
                drawn.putpixel((x, 2 * y + half), 255 * lit)
    out = BytesIO()
    drawn.resize((drawn.width * 6, drawn.height * 6), Image.NEAREST).save(out, "PNG")
    assert read_codes(out.getvalue()) == ("http://192.168.1.20:8765/",)


def test_a_short_passphrase_is_no_passphrase():
    for words in ("", "1234567", " 1234567 ", "        "):
        with pytest.raises(PassphraseTooShort):
            Gate(words)


def test_the_passphrase_itself_is_kept_nowhere():
    gate = Gate(WORDS)
    assert WORDS not in repr(gate) and WORDS not in repr(vars(gate))
    assert Gate(WORDS)._hash != gate._hash  # each with a salt of its own


def test_an_umlaut_is_the_same_in_whichever_way_it_is_typed():
    gate = Gate("Blütenhonig 7")
    assert gate.holds(gate.enter("Blu\u0308tenhonig 7", "10.0.0.7"))


def test_a_session_ends_by_itself():
    clock = Clock()
    gate = Gate(WORDS, clock)
    key = gate.enter(WORDS, "10.0.0.7")
    clock.now += IDLE_SECONDS - 1
    assert gate.holds(key)  # and begins its idle time anew
    clock.now += IDLE_SECONDS + 1
    assert not gate.holds(key)
    key, begun = gate.enter(WORDS, "10.0.0.7"), clock.now
    while clock.now < begun + WHOLE_SECONDS - 600:
        clock.now += 600
        assert gate.holds(key)
    clock.now += 700
    assert not gate.holds(key)
    assert not gate.holds(None) and not gate.holds("") and not gate.holds("guess")


def waits(tries: Tries, clock: Clock, address: str, count: int) -> list[int]:
    found = []
    while len(found) < count:
        try:
            tries.begin(address)
            found.append(0)
        except TooManyTries as wait:
            found.append(wait.seconds)
            clock.now += wait.seconds
            tries.begin(address)
    return found


def test_the_wait_doubles_up_to_a_quarter_of_an_hour_and_is_forgotten_in_an_hour():
    clock = Clock()
    tries = Tries(clock)
    found = waits(tries, clock, "10.0.0.7", 15)
    assert found[:4] == [0] * 4 and found[4:14] == [2, 4, 8, 16, 32, 64, 128, 256, 512, 900]
    clock.now += Tries.FORGOTTEN
    assert waits(tries, clock, "10.0.0.7", 1) == [0]


def test_guessing_from_many_addresses_waits_too_and_never_shuts_the_owner_out():
    clock = Clock()
    tries = Tries(clock)
    for n in range(Tries.FREE_FOR_ALL):
        tries.begin(f"10.0.0.{n}")
    with pytest.raises(TooManyTries) as told:
        tries.begin("10.0.1.1")
    assert told.value.seconds <= Tries.LONGEST_FOR_ALL
    tries.begin("127.0.0.1")  # at the machine itself


def test_a_right_one_frees_its_address():
    clock = Clock()
    tries = Tries(clock)
    for _ in range(40):
        tries.begin("10.0.0.7")
        tries.right("10.0.0.7")


def test_what_is_kept_of_guessers_does_not_grow_without_end():
    clock = Clock()
    tries = Tries(clock)
    for n in range(3 * Tries.KEPT):
        clock.now += 61
        tries.begin(f"10.{n // 65536}.{n // 256 % 256}.{n % 256}")
    assert len(tries._failed) <= Tries.KEPT


def test_two_hundred_guesses_at_once_gain_nothing():
    tries, let = Tries(Clock()), []

    def one() -> None:
        try:
            tries.begin("10.0.0.7")
            let.append(1)
        except TooManyTries:
            pass

    threads = [threading.Thread(target=one) for _ in range(200)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert len(let) == Tries.FREE


# RFC 1918 and RFC 3927 blocks, and addresses beside them.
@pytest.mark.parametrize(
    "address", ["10.0.0.1", "172.16.0.1", "172.31.255.254", "192.168.0.1", "169.254.3.4", "127.0.0.1", "fe80::1"]
)
def test_a_local_networks_address_is_known(address):
    assert of_a_local_network(address)


@pytest.mark.parametrize(
    "address", ["8.8.8.8", "172.32.0.1", "192.169.0.1", "11.0.0.1", "0.0.0.0", "224.0.0.1", "2001:4860::1", "", "x"]
)
def test_an_address_of_the_internet_is_not(address):
    assert not of_a_local_network(address)


@pytest.mark.parametrize("wished", ["0.0.0.0", "8.8.8.8", "::", "fe80::1", "example.com", "192.168.1.20; ls"])
def test_it_is_served_at_no_address_of_the_internet(wished):
    with pytest.raises(NoLocalNetwork):
        local_address(wished)


def test_an_address_of_another_machine_is_refused(tmp_path):
    with pytest.raises(NoLocalNetwork) as told:
        Server(desk_at(tmp_path), 0, "10.255.255.77", WORDS)
    assert "not an address of this machine" in told.value.what


def test_a_visitor_from_the_internet_is_not_answered(network):
    from labelkit.errors.page import NotOfThisNetwork

    with pytest.raises(NotOfThisNetwork):
        network.lan.check_visitor("8.8.8.8")


def test_a_wrong_one_is_wrong_in_the_same_words_however_wrong():
    gate = Gate(WORDS)
    said = set()
    for words in ("", "b", WORDS[:-1], "something else entirely"):
        with pytest.raises(PassphraseWrong) as told:
            gate.enter(words, f"10.0.0.{len(words)}")
        said.add(str(told.value))
    assert len(said) == 1


def test_the_command_serves_no_network_without_a_passphrase(monkeypatch, capsys, tmp_path):
    from labelkit.cli._runner import run

    monkeypatch.delenv("LABELKIT_PASSPHRASE", raising=False)
    monkeypatch.setattr("sys.stdin", io.StringIO())
    line = ["--record", str(tmp_path / "season.labelkit"), "page", "--no-browser", "--port=0", f"--lan={NETWORK}"]
    assert run(line) == 2 and "You gave no passphrase" in capsys.readouterr().err
    assert run([*line, "--passphrase=short"]) == 2 and "fewer than 8" in capsys.readouterr().err
    monkeypatch.setenv("LABELKIT_PASSPHRASE", "short")
    assert run(line) == 2 and "fewer than 8" in capsys.readouterr().err


def test_the_command_prints_the_address_its_code_and_the_warning(monkeypatch, capsys, tmp_path):
    from labelkit.cli._runner import run

    monkeypatch.setattr(Server, "run", lambda server: [held.close() for held in server._sockets])
    line = ["--record", str(tmp_path / "season.labelkit"), "page", "--no-browser", "--port=0", f"--lan={NETWORK}"]
    assert run([*line, f"--passphrase={WORDS}"]) == 0
    told = capsys.readouterr().err
    assert f"http://{NETWORK}:" in told and "▀" in told and "could read along" in told and WORDS not in told
