"""Labels and band patterns."""

from __future__ import annotations

from itertools import count, islice, product
from string import ascii_uppercase

__all__ = ["band_patterns", "label"]


def label(index: int) -> str:
    """Return the label of type `index`: A ... Z, AA, AB ...

    >>> [label(i) for i in (0, 25, 26, 701, 702)]
    ['A', 'Z', 'AA', 'ZZ', 'AAA']
    """
    letters = ""
    index += 1
    while index:
        index, letter = divmod(index - 1, 26)
        letters = ascii_uppercase[letter] + letters
    return letters


def band_patterns(n: int) -> list[str]:
    """Return `n` patterns of narrow (``n``) and wide (``w``) bands, the simplest first.

    No pattern is another one read from the other side, so that a strut may be turned round.

    >>> band_patterns(8)
    ['n', 'w', 'nn', 'nw', 'ww', 'nnn', 'nnw', 'nwn']
    """
    every = (
        "".join(bands)
        for length in count(1)
        for bands in product("nw", repeat=length)
        if bands <= bands[::-1]
    )
    return list(islice(every, n))
