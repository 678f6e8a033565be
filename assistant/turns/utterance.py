"""What comes in: one utterance, as a value that can be sent, kept and told again."""

from pydantic import AwareDatetime, BaseModel, ConfigDict

from assistant.hear.heard import Heard


class Utterance(BaseModel):
    """Something that was said or typed, and all that its sender knew.

    heard : the words, with alternatives and weights
    id : made by its sender; the same words sent again carry the same one, "" for none
    device : which keyboard, page or microphone it came from
    batch, stage : what the sender saw: the batch, and the id of its stage, "" for one that has
        ended; None where nobody can tell
    at : when it was said, where that was not just now

    >>> said = Utterance.typed("68 degrees", device="tablet", stage="heat")
    >>> Utterance.model_validate_json(said.model_dump_json()) == said
    True
    """

    model_config = ConfigDict(frozen=True)

    heard: Heard
    id: str = ""
    device: str = ""
    batch: str | None = None
    stage: str | None = None
    at: AwareDatetime | None = None

    @classmethod
    def typed(
        cls,
        text: str,
        *,
        id: str = "",
        device: str = "",
        batch: str | None = None,
        stage: str | None = None,
        at: AwareDatetime | None = None,
    ) -> "Utterance":
        """Typed words."""
        heard = Heard.typed(text)
        return cls(heard=heard, id=id, device=device, batch=batch, stage=stage, at=at)

    @property
    def spoken(self) -> bool:
        """Whether it came through a microphone."""
        return self.heard.engine != "typed"
