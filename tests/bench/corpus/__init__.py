"""Makes the recordings on which the hearing is measured: reproducible, kept outside the repository.

    python -m tests.bench.corpus --out DIR --split dev|held|nonspeech --size N --seed S

`phrases` says what is spoken and what it means, `speakers` who speaks, `rooms` and `mixing` what
lies between mouth and microphone, `talk` what is not for the tool, `making` turns all of it into
files and a manifest. Nothing here uses the grammars: what is right is written down beside each
phrase, not asked of the parser that is to be measured.
"""
