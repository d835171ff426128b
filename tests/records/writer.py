"""Writes records one after the other and says of each that it is kept, until it is killed."""

from __future__ import annotations

import sys

from shop_records import person

from swapwright.records.store import open_store


def main() -> None:
    store = open_store(sys.argv[1])
    number = int(sys.argv[2])
    while True:
        (kept,) = store.append(person(number))
        sys.stdout.write(f"{number} {kept.number} {kept.chained}\n")
        sys.stdout.flush()
        number += 1


if __name__ == "__main__":
    main()
