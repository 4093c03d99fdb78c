"""The page on the local network: at which address, who may come in, and how often one may try.

The passphrase is kept as a salted scrypt hash in memory only, with the work factors of the OWASP cheat sheet on password
storage (N = 2^14, r = 8, p = 5), and taken in the composed form NIST SP 800-63B names, so that an umlaut typed on a
telephone is the one typed on a context. Who came in has a session on this side, which ends by itself.
"""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
import math
import secrets
import socket
import unicodedata
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Lock
from time import monotonic

from labelkit.errors.page import NoLocalNetwork, NotOfThisNetwork, PassphraseTooShort, PassphraseWrong, TooManyTries

LEAST = 8  # characters
MOST = 1_000
WHOLE_SECONDS, IDLE_SECONDS = 12 * 3600, 2 * 3600
_WORK = {"n": 2**14, "r": 8, "p": 5, "dklen": 32, "maxmem": 64 * 1024 * 1024}
_LOOPBACK = "127.0.0.1"


def local_address(wished: str = "") -> str:
    """The address of this machine on its local network, or the wished one if it is one of a local network.

    Raises :class:`~labelkit.errors.page.NoLocalNetwork`.

    >>> local_address("192.168.1.20")
    '192.168.1.20'
    """
    if wished:
        if not of_a_local_network(wished) or ":" in wished:
            raise NoLocalNetwork(f"“{wished[:60]}” is no address of a local network")
        return wished
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(
                ("192.0.2.1", 9)
            )  # RFC 5737: nobody's address; nothing is sent, the system only picks the way
            found = probe.getsockname()[0]
        except OSError:
            found = _LOOPBACK
    if ipaddress.ip_address(found).is_loopback:
        raise NoLocalNetwork("it is on no network")
    if not of_a_local_network(found):
        raise NoLocalNetwork(f"its address {found} can be reached from the whole internet")
    return found


def of_a_local_network(address: str) -> bool:
    """Whether an address belongs to a local network or to this machine (RFC 1918, RFC 3927 and their like).

    >>> of_a_local_network("10.0.0.7"), of_a_local_network("8.8.8.8"), of_a_local_network("anything")
    (True, False, False)
    """
    try:
        found = ipaddress.ip_address(address)
    except ValueError:
        return False
    return (found.is_private or found.is_link_local) and not found.is_unspecified and not found.is_multicast


class Tries:
    """How often somebody tried: a few times freely, then with a wait that doubles.

    Each try counts as a failure until it is known to be right, so that many at once gain nothing. All addresses together
    have a wait too, short enough that nobody can shut the owner out by it.
    """

    FREE, LONGEST, FREE_FOR_ALL, LONGEST_FOR_ALL = 4, 900, 20, 60
    FORGOTTEN = 3600
    KEPT = 1_000

    def __init__(self, clock: Callable[[], float] = monotonic) -> None:
        self._clock = clock
        self._failed: dict[str, tuple[int, float]] = {}
        self._lock = Lock()

    def begin(self, address: str) -> None:
        """One try more. Raises :class:`~labelkit.errors.page.TooManyTries` with the seconds to wait."""
        with self._lock:
            now = self._clock()
            self._failed = {who: (n, at) for who, (n, at) in self._failed.items() if now - at < self.FORGOTTEN}
            wait = max(
                self._left(address, self.FREE, self.LONGEST, now),
                0 if address == _LOOPBACK else self._left("", self.FREE_FOR_ALL, self.LONGEST_FOR_ALL, now),
            )
            if wait > 0:
                raise TooManyTries(math.ceil(wait))
            for who in (address, ""):
                self._failed[who] = (self._failed.get(who, (0, 0.0))[0] + 1, now)
            while len(self._failed) > self.KEPT:
                self._failed.pop(min((who for who in self._failed if who), key=lambda who: self._failed[who][1]))

    def right(self, address: str) -> None:
        """The try was right: this address is free again."""
        with self._lock:
            self._failed.pop(address, None)
            count, at = self._failed.get("", (1, 0.0))
            self._failed[""] = (count - 1, at)

    def _left(self, who: str, free: int, longest: int, now: float) -> float:
        count, at = self._failed.get(who, (0, now))
        return at + min(2 ** min(count - free + 1, 20), longest) - now if count >= free else 0


@dataclass
class Gate:
    """Who may come in: a passphrase, and the sessions of those who knew it."""

    passphrase: str = field(repr=False)
    clock: Callable[[], float] = monotonic

    def __post_init__(self) -> None:
        told = _composed(self.passphrase)
        if len(told) < LEAST:
            raise PassphraseTooShort(LEAST)
        self.passphrase = ""  # from here on only its hash is known
        self._salt = secrets.token_bytes(16)
        self._hash = self._hashed(told)
        self._tries = Tries(self.clock)
        self._sessions: dict[bytes, tuple[float, float]] = {}
        self._lock = Lock()

    def enter(self, passphrase: str, address: str) -> str:
        """A session's key for whoever knows the passphrase.

        Raises :class:`~labelkit.errors.page.PassphraseWrong` or :class:`~labelkit.errors.page.TooManyTries`.
        """
        self._tries.begin(address)
        with self._lock:  # one at a time: the hash is made to be slow
            right = hmac.compare_digest(self._hashed(_composed(passphrase[:MOST])), self._hash)
        if not right:
            raise PassphraseWrong()
        self._tries.right(address)
        key, now = secrets.token_urlsafe(32), self.clock()
        self._sessions = {each: held for each, held in self._sessions.items() if self._fresh(held)}
        self._sessions[_name(key)] = (now, now)
        return key

    def holds(self, key: str | None) -> bool:
        """Whether this session is one that goes on; asking keeps it awake."""
        held = self._sessions.get(_name(key or ""))
        if held is None or not self._fresh(held):
            return False
        self._sessions[_name(key or "")] = (held[0], self.clock())
        return True

    def leave(self, key: str | None) -> None:
        """End a session."""
        self._sessions.pop(_name(key or ""), None)

    def _fresh(self, held: tuple[float, float]) -> bool:
        now = self.clock()
        return now - held[0] < WHOLE_SECONDS and now - held[1] < IDLE_SECONDS

    def _hashed(self, text: str) -> bytes:
        return hashlib.scrypt(text.encode(), salt=self._salt, **_WORK)


@dataclass(frozen=True)
class Lan:
    """The page's place on the network."""

    ip: str
    port: int
    gate: Gate

    @property
    def address(self) -> str:
        """What to type into a telephone."""
        return f"http://{self.ip}:{self.port}/"

    def check_visitor(self, address: str | None) -> None:
        """Answer only this network. Raises :class:`~labelkit.errors.page.NotOfThisNetwork`."""
        if not of_a_local_network(address or ""):
            raise NotOfThisNetwork((address or "nobody")[:60])


def in_blocks(rows: tuple[bytes, ...], quiet: int) -> str:
    """A matrix of dark and light for a terminal, two rows in each line of half blocks, light ones drawn.

    >>> print(in_blocks((b"\\x01\\x00", b"\\x00\\x01"), 1))
    █▀██
    ██▄█
    """
    wide = len(rows[0]) + 2 * quiet
    blank = bytes(wide)
    framed = [blank] * quiet + [bytes(quiet) + row + bytes(quiet) for row in rows] + [blank] * quiet
    if len(framed) % 2:
        framed.append(bytes([1]) * wide)
    signs = {(0, 0): "█", (0, 1): "▀", (1, 0): "▄", (1, 1): " "}
    lines = zip(framed[::2], framed[1::2], strict=True)
    return "\n".join("".join(signs[bool(a), bool(b)] for a, b in zip(up, low, strict=True)) for up, low in lines)


def _composed(text: str) -> str:
    return unicodedata.normalize("NFKC", text).strip()


def _name(key: str) -> bytes:
    return hashlib.sha256(key.encode()).digest()
