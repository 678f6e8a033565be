"""A program that appends readings to a batch and tells of each that was accepted.

Arguments: store, batch id, how many, and when to wait for a line of input: before the store is
opened ("first") or when it is open and read ("open"). Prints a number a line once that many events
stand in the journal; "refused" and the reason when another session was in the way.
"""

import sys

from event_makers import begin, reading

from assistant.base.errors import StoreUnusable
from assistant.keep import Journal


def wait() -> None:
    print("ready", flush=True)
    sys.stdin.readline()


def main(store: str, batch: str, many: int, when: str) -> None:
    if when == "first":
        wait()
    with Journal(store) as journal:
        held = len(journal.events(batch))
        if when == "open":
            wait()
        append(journal, batch, range(held, held + many))


def append(journal: Journal, batch: str, numbers: range) -> None:
    for seq in numbers:
        try:
            journal.append(batch, reading(seq) if seq else begin(batch), seq)
        except StoreUnusable as refusal:
            print("refused", refusal, flush=True)
            return
        print(seq + 1, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]), sys.argv[4])
