"""A program that appends readings to a batch and tells of each that was accepted.

Arguments: store, batch id, how many. Waits for a line before it starts. Prints a number a line
once that many events stand in the journal; "refused" and the reason when another session was in
the way.
"""

import sys

from event_makers import begin, reading

from assistant.errors import StoreUnusable
from assistant.keep import Journal


def main(store: str, batch: str, many: int) -> None:
    print("ready", flush=True)
    sys.stdin.readline()
    with Journal(store) as journal:
        held = len(journal.events(batch))
        for seq in range(held, held + many):
            try:
                journal.append(batch, reading(seq) if seq else begin(batch), seq)
            except StoreUnusable as refusal:
                print("refused", refusal, flush=True)
                return
            print(seq + 1, flush=True)


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2], int(sys.argv[3]))
