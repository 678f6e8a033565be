"""`panside talk` where it can be tried without a microphone."""

import signal
import subprocess
from pathlib import Path

from panside_process import RUN, environment

from assistant.commands.talk import hush_at
from assistant.say.player import RecordingPlayer
from assistant.say.speaker import Speaker
from assistant.say.voice import SilentVoice


def test_enter_breaks_off_the_sentence_that_sounds() -> None:
    player = RecordingPlayer()
    speaker = Speaker(SilentVoice(), player)
    speaker.say("Crush the fruit with six hundred grams of sugar.")
    assert speaker.is_speaking()
    hush_at(["\n"], speaker)
    assert not speaker.is_speaking()


def test_without_sound_devices_it_says_so_in_one_sentence(tmp_path: Path) -> None:
    """Where there is a microphone after all, it listens until it is interrupted."""
    talk = subprocess.Popen(
        [*RUN, "talk", "--recipe", "berry-syrup", "--mute"],
        stdin=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        env=environment(tmp_path / "journal.sqlite"),
        text=True,
    )
    try:
        _, told = talk.communicate(timeout=30)
    except subprocess.TimeoutExpired:
        talk.send_signal(signal.SIGINT)
        _, told = talk.communicate(timeout=30)
        assert talk.returncode == 130
    else:
        assert talk.returncode == 4
        assert len(told.strip().splitlines()) == 1
        assert "panside chat" in told
    assert "Traceback" not in told
