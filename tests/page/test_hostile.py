"""Five hundred hostile names, every method, broken paths, bodies and headers: text stays text, and nothing makes a fault."""

from __future__ import annotations

import csv
import io
import tempfile
from html.parser import HTMLParser
from itertools import product
from pathlib import Path
from urllib.parse import quote
from xml.etree import ElementTree

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelkit.page.app import make_app
from labelkit.page.language import LANGUAGES
from labelkit.page.request_context import Station
from labelkit.page.samples import Samples
from labelkit.page.security import HEADERS
from tests.page.conftest import PORT, Hand, desk_at
from tests.walks import examples, share

# From the OWASP cheat sheets on cross-site scripting and injection: ways out of text, attributes, links and templates.
BREAKS = (
    "<script>alert(1)</script>",
    '"><img src=x onerror=alert(1)>',
    "' onfocus=alert(1) x='",
    "</title><svg onload=alert(1)>",
    "</textarea><iframe src=//evil.example>",
    "javascript:alert(1)",
    "//evil.example",
    "{{7*7}}",
    "{% include 'x' %}",
    "${7*7}",
    "%(n)s {n} {0}",
    "=HYPERLINK(1)",
    "'; DROP TABLE event;--",
    "../../etc/passwd",
    "a&amp;b&lt;",
    "--help",
    "\u202eevil",
    "\u200b",
    "日本語",
    "🐝🍯",
    "ÅngströmÄÖ",
    "<!--",
    "]]>",
    "\\u003cb\\u003e",
    "`id`",
)
NAMES = [f"{n:03d} {one}{other}"[:58].strip() for n, (one, other) in enumerate(product(BREAKS, BREAKS))][:500]
PATHS = (
    "/",
    "/weigh",
    "/drain",
    "/blend",
    "/prices",
    "/plan",
    "/bottle",
    "/filling",
    "/sell",
    "/stall",
    "/labels",
    "/looks",
    "/words",
    "/trace",
    "/recall",
    "/record",
    "/start",
)


class Strict(HTMLParser):
    """Reads a page as a browser would, and notes whatever could run or lead away."""

    VOID = frozenset(
        {"meta", "link", "input", "img", "br", "hr", "rect", "line", "polygon", "path", "circle", "polyline", "use"}
    )

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.faults: list[str] = []
        self.open: list[str] = []

    def handle_starttag(self, tag, attrs) -> None:
        given = dict(attrs)
        if tag not in self.VOID:
            self.open.append(tag)
        if tag in ("iframe", "object", "embed", "base", "style") or (
            tag == "script" and not str(given.get("src")).startswith("/file/")
        ):
            self.faults.append(f"<{tag}>")
        for name, value in given.items():
            elsewhere = name == "formtarget" and value != "_self"
            if name.startswith("on") or name in ("style", "srcdoc") or elsewhere:
                self.faults.append(f"{tag} {name}={value}")
            if name in ("href", "src", "action", "formaction", "data-live", "data-poll", "data-scan") and not local(
                value
            ):
                self.faults.append(f"{tag} {name}={value}")

    def handle_startendtag(self, tag, attrs) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in self.VOID:
            self.open.pop()

    def handle_endtag(self, tag) -> None:
        if self.open and tag in self.open:
            while self.open.pop() != tag:
                pass


def local(address: str | None) -> bool:
    return bool(address) and (
        address.startswith("#") or (address.startswith("/") and not address.startswith(("//", "/\\")))
    )


def read(page: str) -> list[str]:
    strict = Strict()
    strict.feed(page)
    return strict.faults


def test_the_reader_itself_sees_what_it_is_to_see():
    for bad in (
        "<p onclick=x>",
        "<script>1</script>",
        "<a href='javascript:1'>",
        "<a href='//evil.example'>",
        "<p style='x'>",
        "<iframe>",
    ):
        assert read(bad), bad
    assert not read('<p class="x"><a href="/trace?code=%3Cb%3E">&lt;b&gt;</a></p>')


@pytest.fixture(scope="module")
def crowded():
    """A season of five hundred buckets with hostile names, yards, hives and plants, and what else takes a name."""
    with tempfile.TemporaryDirectory() as folder:
        context = desk_at(Path(folder))
        someone = Hand(make_app(Station(context, True, PORT, Samples())).test_client(), context.record)
        someone.send("/start", {"market": "us-va", "name": NAMES[1], "city": NAMES[2], "street": NAMES[3]})
        someone.send("/prices", {"size": NAMES[26], "declares": "1 lb", "price": "12.00", "cost": "1.35"})
        for begin in range(0, len(NAMES), 125):
            table = io.StringIO()
            rows = csv.writer(table)
            rows.writerow(("bucket", "net", "yard", "hives", "plant", "moisture"))
            rows.writerows(
                (name, "12.5 kg", name[::-1], name[4:24].replace(",", " "), name[4:], "17.2")
                for name in NAMES[begin : begin + 125]
            )
            sent = someone.send("/weigh/file", {"table": (io.BytesIO(table.getvalue().encode()), "x.csv")}, "/weigh")
            assert sent.headers.get("Location") == "/weigh", sent.text
        sent = someone.send("/bottle", {"bucket": NAMES[27], f"jar:{NAMES[26]}": "5"})
        assert sent.status_code == 303, sent.text
        lot = sent.headers["Location"].rpartition("/")[2]
        someone.send(
            "/sell",
            {"lot": lot, f"jar:{NAMES[26]}": "2", "as": "sold", "customer": NAMES[28], "place": NAMES[29]},
            f"/sell?lot={lot}",
        )
        someone.send("/words", {"name": NAMES[30], "lines": NAMES[31]})
        someone.lot = lot
        yield someone


@pytest.mark.exhaustive(one_in=20)
@pytest.mark.parametrize("lang", LANGUAGES)
def test_a_hostile_name_stays_text_on_every_page_in_every_language(crowded, lang):
    with crowded.client.session_transaction(base_url=f"http://{crowded.host}") as session:
        session["language"] = lang
    more = (
        f"/lot/{crowded.lot}",
        f"/sell?lot={crowded.lot}",
        f"/trace?code={crowded.lot}",
        f"/labels?lot={crowded.lot}&size={quote(NAMES[26])}",
    )
    for path in (*PATHS, *more):
        answer = crowded.get(path)
        assert answer.status_code == 200, path
        assert read(answer.text) == [], path


def test_five_hundred_names_are_traced_looked_at_and_refused_as_text(crowded):
    for n, name in share(((name, (n, name)) for n, name in enumerate(NAMES)), one_in=12):
        path = ("/trace?code=", "/sell?lot=", "/weigh/look?net=4&bucket=", "/lot/")[n % 4]
        answer = crowded.get(f"{path}{quote(name)}")
        assert answer.status_code in (200, 404) and read(answer.text) == [], name


def test_a_drawing_of_hostile_names_runs_nothing(crowded):
    for name in NAMES[::13]:
        drawn = crowded.get(f"/trace/flow.svg?code={quote(name)}")
        assert drawn.status_code == 200 and "sandbox" in drawn.headers["Content-Security-Policy"]
        tree = ElementTree.fromstring(drawn.text)  # well-formed, or a name would have broken out
        for node in tree.iter():
            assert node.tag.rpartition("}")[2] not in ("script", "foreignObject", "iframe", "image", "a"), name
            assert not [key for key in node.attrib if key.lower().startswith("on") or "href" in key], name


SEGMENTS = st.one_of(
    st.sampled_from(
        ["..", "%2e%2e", ".", "%00", "%", "%ff%fe", "a" * 3000, "~", "con", "%0d%0aX-Evil:1", "<b>", "日本"]
    ),
    st.text(st.characters(exclude_characters="/?#", exclude_categories=("Cs", "Cc")), min_size=1, max_size=20).map(
        quote
    ),
)
METHODS = ("GET", "HEAD", "POST", "PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "PROPFIND")


@given(data=st.data())
@settings(max_examples=examples(250), suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow])
def test_no_method_path_header_or_body_makes_a_fault(crowded, data):
    rules = sorted(
        {rule.rule for rule in crowded.client.application.url_map.iter_rules()} - {"/sample", "/sample/away"}
    )
    rule = data.draw(st.sampled_from(rules))
    path = (
        "/".join(
            data.draw(SEGMENTS) if part.startswith("<") or data.draw(st.integers(0, 9)) == 0 else part
            for part in rule.split("/")
        )
        or "/"
    )
    path = path if path.startswith("/") else f"/{path}"
    headers = {
        "Host": crowded.host,
        "Accept-Language": data.draw(st.sampled_from(["", "de", "*;q=0", "x" * 500, "de;q=ä", ",,;;"])),
        "Cookie": data.draw(st.sampled_from(["", f"labelkit-{PORT}=x.y.z", "=;=", f"labelkit-{PORT}={'A' * 4000}"])),
        "Content-Type": data.draw(
            st.sampled_from(
                [
                    "",
                    "application/json",
                    "multipart/form-data",
                    "multipart/form-data; boundary=b",
                    "text/plain; charset=zz",
                ]
            )
        ),
        "Range": data.draw(st.sampled_from(["", "bytes=9-1", "bytes=0-"])),
        "If-None-Match": data.draw(st.sampled_from(["", "*", '"'])),
    }
    body = data.draw(
        st.one_of(
            st.binary(max_size=200),
            st.sampled_from(
                [
                    b"--b\r\n",
                    b'--b\r\nContent-Disposition: form-data; name="table"; filename="../x"\r\n\r\n--b--',
                    b"token=%ff&step=%00",
                    b"&=&=;",
                ]
            ),
        )
    )
    answer = crowded.client.open(
        path.encode("utf-8", "replace").decode("latin-1"),
        method=data.draw(st.sampled_from(METHODS)),
        data=body,
        headers={name: value.encode("utf-8").decode("latin-1") for name, value in headers.items() if value},
    )
    assert answer.status_code < 500, (path, answer.data[-600:])
    assert b"not built for" not in answer.data and b"Traceback" not in answer.data
    for name in HEADERS:
        assert answer.headers.get(name), (path, name)
    assert "X-Evil" not in answer.headers
    if answer.mimetype == "text/html":
        assert read(answer.get_data(as_text=True)) == [], path
