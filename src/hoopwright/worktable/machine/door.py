"""The door of what is shared: a code of six digits, shown on the maker's screen, that lets a device in.

Who guesses gets few tries: WRONG_A_MINUTE wrong ones a minute, and MOST_WRONG in all, after which nobody else is let in until
the maker shares anew, with a fresh code. So a guesser has at most 20 chances in a million.
A device that was let in carries a long random word as a cookie; of it only a fingerprint is kept here.
"""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final, Literal, TypeAlias

DIGITS: Final = 6
WRONG_A_MINUTE: Final = 5
MOST_WRONG: Final = 20
MINUTE: Final = 60.0
MOST_DEVICES: Final = 10
"""So many devices are let in with one code."""
WORD_BYTES: Final = 32

Said: TypeAlias = Literal["wrong", "wait", "closed"]


@dataclass(frozen=True, slots=True)
class Device:
    """A device that was let in: its address, when, and when it last asked (seconds of the clock)."""

    address: str
    since: float
    seen: float


def fresh_code() -> str:
    """Return a random code."""
    return f"{secrets.randbelow(10**DIGITS):0{DIGITS}d}"


class Door:
    """Who may come in. May be asked from several threads."""

    def __init__(self, clock: Callable[[], float], code: str | None = None) -> None:
        """Close the door with a code (None: a fresh one)."""
        self.code = fresh_code() if code is None else code
        self._clock = clock
        self._lock = threading.Lock()
        self._wrong: list[float] = []
        self._devices: dict[str, Device] = {}

    @property
    def closed(self) -> bool:
        """Whether nobody else is let in, after too many wrong codes or with too many devices."""
        return len(self._wrong) >= MOST_WRONG or len(self._devices) >= MOST_DEVICES

    @property
    def wrong(self) -> int:
        """How many wrong codes were tried."""
        return len(self._wrong)

    def devices(self) -> tuple[Device, ...]:
        """Return who was let in, in this order."""
        with self._lock:
            return tuple(self._devices.values())

    def knock(self, given: str, address: str) -> tuple[str | None, Said]:
        """Return a new device's word when the code is right, else None with the reason. Blanks between digits do not matter."""
        digits = "".join(given.split())[: 4 * DIGITS]
        with self._lock:
            now = self._clock()
            if self.closed:
                return None, "closed"
            if sum(now - t < MINUTE for t in self._wrong) >= WRONG_A_MINUTE:
                return None, "wait"
            if not hmac.compare_digest(digits.encode(), self.code.encode()):
                self._wrong.append(now)
                return None, "wrong" if len(self._wrong) < MOST_WRONG else "closed"
            word = secrets.token_urlsafe(WORD_BYTES)
            self._devices[_print(word)] = Device(address, now, now)
            return word, "wrong"

    def knows(self, word: str, address: str) -> bool:
        """Whether a device was let in; it is seen then."""
        with self._lock:
            device = self._devices.get(_print(word))
            if device is None:
                return False
            self._devices[_print(word)] = Device(address, device.since, self._clock())
            return True


def _print(word: str) -> str:
    """Return a word's fingerprint: looked up as such, the time of the look tells nothing about the word."""
    return hashlib.sha256(word.encode("utf-8", "replace")).hexdigest()
