"""Further ways of asking, one file a subject, beside the cards, so that these stay short.

A file holds a `[label]` and then a line for each way; a line that is empty or begins with # tells
nothing. Written by several hands who saw what a card answers and not how the program understands.
"""

from collections.abc import Mapping
from functools import cache
from importlib.resources import files


@cache
def ways(subject: str) -> Mapping[str, tuple[str, ...]]:
    """By label, the further ways of asking that a subject's file holds; none where there is none.

    subject : name of the file without its ending: that of a file of cards, "topics" or "acts"
    """
    file = files("assistant.answers").joinpath("ways", f"{subject}.txt")
    return parted(file.read_text("utf-8")) if file.is_file() else {}


def parted(text: str) -> dict[str, tuple[str, ...]]:
    """The lines of a file by the label above them; ValueError for a line above all labels.

    >>> parted("[sugar.honey]\\nhoney instead?\\n\\n# asked often\\nwould honey do")
    {'sugar.honey': ('honey instead?', 'would honey do')}
    """
    found: dict[str, list[str]] = {}
    label = ""
    for line in map(str.strip, text.splitlines()):
        if line.startswith("[") and line.endswith("]"):
            label = line[1:-1]
            found.setdefault(label, [])
        elif line and not line.startswith("#"):
            if not label:
                raise ValueError(f"{line!r} stands above all labels")
            found[label].append(line)
    return {name: tuple(lines) for name, lines in found.items()}
