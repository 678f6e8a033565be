"""What was learnt, in words for the next time."""

from batch_maker import Maker

from assistant.report.repeated import hint_record, hint_words


def _whole() -> Maker:
    maker = Maker().up_to("store")
    maker.done()
    return maker


WHOLE = _whole()


def test_hints_are_sentences() -> None:
    from assistant.planning import hints

    found = hints(WHOLE.journal, 1200.0)
    assert found
    for hint in found:
        assert hint_words(hint).startswith("last time ")
        assert hint_record(hint)["last"] == round(hint.last, 3)
    assert any("from each litre" in hint_words(h, "litre") for h in found)
