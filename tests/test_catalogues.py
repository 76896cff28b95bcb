"""The catalogues of messages: gathered from all sources, complete where people work in Spanish and French."""

import gettext
import re
import shutil
from pathlib import Path

import polib
import pytest
from django.core.management import call_command

from objects.core.words import CATALOGUES, LANGUAGES

TRANSLATED = [code for code in LANGUAGES if code != "en"]
DOMAINS = ("django", "djangojs")
# The files of what must be complete: the bench, the survey and the prints.
COMPLETE = re.compile(
    r"""templates/(print/|housing/(bench|fit|hold|label_code|sheet_cut|report_)|objects/survey|registration/|base\.html|parts/)
    |housing/printing/
    |housing/core/(making|handling/|drawing/(blank|layout|legend|closed)|steps|label_codes|day_words)
    |housing/(views|forms|services|queries|models)/(bench|fit|hold|spells|sheet|returning|label_code|waits)
    |objects/(views|forms|services|queries)/(survey|measur|sizes|photos)
    |objects/core/(lengths|weights|numbers|measuring)
    |housing/static/housing/(bench|survey)
    |housing/templatetags/(bench|navigation)""",
    re.VERBOSE,
)
PLACEHOLDERS = re.compile(r"\{(\w*)[^{}]*\}|%\((\w+)\)[sd]|%[sd]")

needs_gettext = pytest.mark.skipif(shutil.which("xgettext") is None, reason="GNU gettext is not installed")


def catalogue(language: str, domain: str) -> polib.POFile:
    return polib.pofile(str(CATALOGUES / language / "LC_MESSAGES" / f"{domain}.po"))


@pytest.fixture(scope="module")
def gathered(tmp_path_factory: pytest.TempPathFactory) -> dict[str, polib.POFile]:
    """By domain the messages that all sources say now."""
    from django.test import override_settings

    folder = tmp_path_factory.mktemp("locale")
    asked = {
        "locale": ["es"],
        "ignore_patterns": ["objects/locale", "tests/*", ".venv", "var", "housing/management/*"],
        "verbosity": 0,
    }
    with override_settings(LOCALE_PATHS=[folder]):
        for domain in DOMAINS:
            call_command("makemessages", domain=domain, no_wrap=True, **asked)
    return {domain: polib.pofile(str(folder / "es" / "LC_MESSAGES" / f"{domain}.po")) for domain in DOMAINS}


def key(entry: polib.POEntry) -> tuple[str, str, str]:
    return entry.msgctxt or "", entry.msgid, entry.msgid_plural or ""


@needs_gettext
@pytest.mark.parametrize("domain", DOMAINS)
@pytest.mark.parametrize("language", TRANSLATED)
def test_what_is_said_at_bench_and_shelf_and_on_paper_is_translated(language: str, domain: str, gathered):
    known = {key(entry) for entry in catalogue(language, domain).translated_entries()}

    missing = [
        f"{entry.occurrences[0][0]}: {entry.msgid}"
        for entry in gathered[domain]
        if key(entry) not in known and any(COMPLETE.search(file) for file, _ in entry.occurrences)
    ]

    assert missing == []


@needs_gettext
@pytest.mark.parametrize("domain", DOMAINS)
@pytest.mark.parametrize("language", TRANSLATED)
def test_nothing_is_translated_that_is_no_longer_said(language: str, domain: str, gathered):
    said = {key(entry) for entry in gathered[domain]}

    assert [entry.msgid for entry in catalogue(language, domain) if key(entry) not in said] == []


@pytest.mark.parametrize("domain", DOMAINS)
@pytest.mark.parametrize("language", TRANSLATED)
def test_translations_name_the_same_values(language: str, domain: str):
    wrong = [
        entry.msgid
        for entry in catalogue(language, domain).translated_entries()
        for said in (entry.msgstr_plural.values() if entry.msgid_plural else [entry.msgstr])
        if not placeholders(said) <= placeholders(entry.msgid) | placeholders(entry.msgid_plural or "")
        or (not entry.msgid_plural and placeholders(said) != placeholders(entry.msgid))
    ]

    assert wrong == []


def placeholders(message: str) -> set[str]:
    return {found.group() for found in PLACEHOLDERS.finditer(message)}


@pytest.mark.parametrize("domain", DOMAINS)
@pytest.mark.parametrize("language", TRANSLATED)
def test_the_compiled_catalogue_is_that_of_the_sources(language: str, domain: str):
    """A fresh copy needs no compiler: the compiled catalogue lies beside its source and says the same."""
    compiled = Path(CATALOGUES) / language / "LC_MESSAGES" / f"{domain}.mo"
    with compiled.open("rb") as file:
        said = gettext.GNUTranslations(file)

    entries = catalogue(language, domain).translated_entries()

    assert entries
    for entry in entries:
        if entry.msgid_plural:
            assert said.ngettext(entry.msgid, entry.msgid_plural, 1) == entry.msgstr_plural[0]
        elif entry.msgctxt:
            assert said.pgettext(entry.msgctxt, entry.msgid) == entry.msgstr
        else:
            assert said.gettext(entry.msgid) == entry.msgstr
