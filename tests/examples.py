"""How many examples a property tries where the usual hundred are too many or too few."""

from hypothesis import settings


def few(number: int) -> settings:
    """So many examples in the usual profile; in the thorough one thousands, as of every property."""
    usual = settings.get_current_profile_name() == "usual"
    return settings(max_examples=number if usual else settings.default.max_examples)
