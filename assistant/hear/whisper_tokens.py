"""The tokens that Whisper writes in: what it is told before, and what it wrote, as text.

A token is a piece of UTF-8, each byte of it as one printable character, as in the byte-pair
encoding of GPT-2 (`bytes_to_unicode` in its `encoder.py`); marks stand in <|...|>. Reading them so
takes no list of tokens, which would be 20 MB in memory.
"""

from functools import cache
from pathlib import Path


def begin(file: Path, prompt: str = "", multilingual: bool = False) -> list[str]:
    """The tokens that a transcript begins with, when a text is believed to have been said before.

    file : `tokenizer.json`, as published with the model
    prompt : that text, "" for none
    multilingual : whether the model must be told the language and what to do with it
    Raises ValueError where the list lacks a mark that is needed, tokenizers' own bare exceptions
    where it is none.
    """
    import tokenizers

    known = tokenizers.Tokenizer.from_file(str(file))
    said = known.encode(" " + prompt.strip(), add_special_tokens=False).tokens if prompt else []
    before = ["<|startofprev|>", *said] if said else []
    told = ("<|en|>", "<|transcribe|>") if multilingual else ()
    found = [*before, "<|startoftranscript|>", *told, "<|notimestamps|>"]
    for token in found:
        if known.token_to_id(token) is None:
            raise ValueError(f"the list of tokens lacks {token}")
    return found


def text_of(tokens: list[str]) -> str:
    """What the tokens say, marks left out.

    >>> text_of(["<|notimestamps|>", "Ġ70", "Âº", "."])
    '70º.'
    """
    letters = "".join(token for token in tokens if not token.startswith("<|"))
    read = bytes(_bytes()[letter] for letter in letters)
    return read.decode("utf-8", "replace").strip()


@cache
def _bytes() -> dict[str, int]:
    """Each character's byte: printable ones stand for themselves, the others from 256 on."""
    plain = (*range(ord("!"), ord("~") + 1), *range(ord("¡"), ord("¬") + 1), *range(ord("®"), 256))
    others = sorted(set(range(256)) - set(plain))
    return {chr(b): b for b in plain} | {chr(256 + at): b for at, b in enumerate(others)}
