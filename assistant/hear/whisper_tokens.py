"""The tokens that Whisper writes in: what it is told before, and what it wrote, as text."""

from pathlib import Path


class Tokens:
    """The tokens in a model's `tokenizer.json`.

    file : as published with the model
    multilingual : whether the model must be told the language and what to do with it
    """

    def __init__(self, file: Path, multilingual: bool = False) -> None:
        import tokenizers

        self._all = tokenizers.Tokenizer.from_file(str(file))
        told = ("<|en|>", "<|transcribe|>") if multilingual else ()
        marks = ("<|startoftranscript|>", *told, "<|notimestamps|>")
        self._begin = [self._number(mark) for mark in marks]

    def _number(self, mark: str) -> int:
        found = self._all.token_to_id(mark)
        if found is None:
            raise ValueError(f"the list of tokens lacks {mark}")
        return int(found)

    def after(self, prompt: str) -> list[int]:
        """What a transcript begins with when that text is believed to have been said before."""
        if not prompt:
            return list(self._begin)
        said = self._all.encode(" " + prompt.strip(), add_special_tokens=False).ids
        return [self._number("<|startofprev|>"), *said, *self._begin]

    def text(self, tokens: list[int]) -> str:
        """What the tokens say, marks left out."""
        return str(self._all.decode(tokens, skip_special_tokens=True)).strip()
