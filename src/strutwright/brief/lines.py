"""On which line of a TOML file each key stands.

The file has been read by `tomllib` before, so it is known to be right; this scanner follows
headers, keys, strings and brackets alone, and builds no values.
"""

from __future__ import annotations

import re
from collections import Counter
from typing import Final

__all__ = ["key_lines"]

_STRING: Final = re.compile(
    r'"""(?:\\.|[^\\])*?"{3,5}|\'\'\'.*?\'{3,5}|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'', re.DOTALL
)
_BLANK: Final = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_SCALAR: Final = re.compile(r"[^,\]}#\n]*")
_KEY_PART: Final = re.compile(r'\s*("(?:\\.|[^"\\])*"|\'[^\']*\'|[A-Za-z0-9_-]+)[ \t]*')


def key_lines(text: str) -> dict[str, int]:
    """Return key -> line, counted from 1, of every key and header of the TOML `text`.

    Keys are full paths: ``struts.stock``, ``struts.bars[1].price``, ``openings[0]``.
    """
    return _Scan(text).whole()


class _Scan:
    """The text, the place reached in it and the lines found so far."""

    def __init__(self, text: str) -> None:
        self.text, self.at = text, 0
        self.found: dict[str, int] = {}
        self.rows: Counter[str] = Counter()

    def whole(self) -> dict[str, int]:
        prefix = ""
        while self.skip_blank():
            if self.text[self.at] == "[":
                prefix = self.header()
            else:
                self.assignment(prefix)
        return self.found

    def skip_blank(self) -> bool:
        match = _BLANK.match(self.text, self.at)
        self.at = match.end() if match else self.at
        return self.at < len(self.text)

    def note(self, key: str) -> None:
        self.found.setdefault(key, self.text.count("\n", 0, self.at) + 1)

    def header(self) -> str:
        is_row = self.text.startswith("[[", self.at)
        start = self.at
        self.at += 2 if is_row else 1
        parts = self.key()
        self.at, end = start, self.at + (2 if is_row else 1)
        name = ""
        for part in parts:
            name = _under(name, part)
            self.note(name)
            if self.rows[name] and part is not parts[-1]:
                name += f"[{self.rows[name] - 1}]"
        if is_row:
            self.rows[name] += 1
            name += f"[{self.rows[name] - 1}]"
        elif self.rows[name]:
            name += f"[{self.rows[name] - 1}]"
        self.note(name)
        self.at = end
        return name

    def key(self) -> list[str]:
        parts = []
        while match := _KEY_PART.match(self.text, self.at):
            parts.append(match[1].strip("\"'"))
            self.at = match.end()
            if not self.text.startswith(".", self.at):
                break
            self.at += 1
        return parts

    def assignment(self, prefix: str) -> None:
        start = self.at
        name = prefix
        parts = self.key()
        end, self.at = self.at, start
        for part in parts:
            name = _under(name, part)
            self.note(name)
        self.at = end + 1  # the equals sign
        self.value(name)

    def value(self, name: str) -> None:
        self.skip_blank()
        match self.text[self.at : self.at + 1]:
            case "[":
                self.items(name, "]")
            case "{":
                self.items(name, "}")
            case "'" | '"':
                string = _STRING.match(self.text, self.at)
                self.at = string.end() if string else self.at + 1
            case _:
                scalar = _SCALAR.match(self.text, self.at)
                self.at = scalar.end() if scalar and scalar.end() > self.at else self.at + 1

    def items(self, name: str, closing: str) -> None:
        """Pass an array, or an inline table: the elements, up to and with the closing bracket."""
        self.at += 1
        index = 0
        while self.skip_blank() and self.text[self.at] != closing:
            if self.text[self.at] == ",":
                self.at += 1
                index += 1
            elif closing == "]":
                self.note(f"{name}[{index}]")
                self.value(f"{name}[{index}]")
            else:
                self.assignment(name)
        self.at += 1


def _under(prefix: str, part: str) -> str:
    return f"{prefix}.{part}" if prefix else part
