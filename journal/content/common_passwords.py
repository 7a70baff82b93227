"""The commonest passwords, which whoever guesses tries first: a password in, yes or no out."""

from __future__ import annotations

import hashlib
from functools import cache
from importlib.resources import files

#: How much of each SHA-256 the file keeps; two of some thousand are never alike in it.
HASH_DIGITS = 16


@cache
def common_hashes() -> frozenset[str]:
    """Return the hashes in the file; its head tells the source and the licence."""
    file = files("journal.content") / "common_passwords" / "sha256.txt"
    lines = file.read_text(encoding="ascii").splitlines()
    return frozenset(line for line in lines if not line.startswith("#"))


def is_common(password: str) -> bool:
    """Tell whether this is one of them, in capitals or with spaces around it as well."""
    plain = password.strip().casefold()
    digest = hashlib.sha256(plain.encode("utf-8", "surrogatepass")).hexdigest()
    return digest[:HASH_DIGITS] in common_hashes()
