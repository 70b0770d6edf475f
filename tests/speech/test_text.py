import pytest

from scripts.speech.text import sentences, spoken


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("Light touch reduced at L5.", "Light touch reduced at L five."),
        ("Tibialis anterior 4-, L4/5.", "Tibialis anterior four minus, L four five."),
        ("Hip flexion 4+, L2-3", "Hip flexion four plus, L two three"),
        ("intact L2-S1", "intact L two to S one"),
        ("Power 5/5, no MRI", "Power five out of five, no M R I"),
        ("40° in a 72 year old", "forty degrees in a seventy-two year old"),
        ("Mr. Brook, MAS 1+", "Mister Brook, M A S one plus"),
        ("four plus, L two three", "four plus, L two three"),
    ],
)
def test_written_forms_are_said_in_words(written: str, said: str) -> None:
    assert spoken(written) == said


def test_sentences_end_at_marks_but_not_after_a_title() -> None:
    assert sentences("Power. Dr. Reed says 4+! Does it hurt? ...") == ["Power.", "Dr Reed says 4+!", "Does it hurt?"]
