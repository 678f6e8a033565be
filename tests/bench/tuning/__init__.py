"""A recipe for tuning Whisper tiny.en to this kitchen; README.md tells what of it has been run.

`texts` says what is spoken, `writing` what is to be written for it, `voices` who speaks it,
`speaking` and `kokoro` have it spoken, `sounds` puts rooms and noise around it, `model` is the
network, `binary` its files, `train` tunes it.
"""
