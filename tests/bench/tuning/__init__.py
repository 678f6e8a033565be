"""The recipe by which the ears were tuned; README.md tells what was run and what came of it.

`texts` says what is spoken, `writing` what is to be written for it, `voices` who speaks it,
`speaking` and `kokoro` have it spoken, `gathering` and `packing` put what is needed together,
`sounds` puts rooms and noise around it, `model` is the network, `train` tunes it, `patching` makes
what comes along of it.
"""
