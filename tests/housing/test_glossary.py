"""Words of the trade: the glossary, and the notes that explain a word where it stands."""

import re
from xml.etree import ElementTree

import pytest
from django.template import Context, Template
from django.urls import reverse

from boards.core.standards import STANDARDS
from housing.core.drawing.glossary_svg import TITLES, glossary_svg
from housing.core.glossary import BY_KEY, GROUPS, TERMS, found
from housing.views.guide import PAGES

TEMPLATES = "templates"
# Titles of standards, from memory of their covers; the number is what a reader looks them up by.
FROM_MEMORY = {
    "grammage": "ISO 536", "lignin": "ISO 302", "edge_crush": "ISO 3037", "handling_marks": "ISO 780",
    "stacking": "ISO 12048", "iso_16245": "ISO 16245", "pat": "ISO 18916", "iso_9706": "ISO 9706",
}  # fmt: skip


def test_each_term_is_told_once():
    assert len(BY_KEY) == len(TERMS)
    assert len({one.words.casefold() for one in TERMS}) == len(TERMS)
    assert not {one.key for one in TERMS} & {group.key for group in GROUPS}  # both are places on one page


def test_every_meaning_is_one_to_three_whole_sentences():
    faults = [
        one.key
        for one in TERMS
        if not (one.meaning.endswith((".", "?")) and 1 <= len(re.findall(r"[.?](?= |$)", one.meaning)) <= 3)
    ]

    assert faults == []


def test_what_a_term_points_to_is_there():
    assert {key for one in TERMS for key in one.see} <= BY_KEY.keys()
    assert {one.picture for one in TERMS} - {""} == TITLES.keys()


def test_standards_are_named_as_sources():
    assert {key: BY_KEY[key].source.partition(",")[0].partition(":")[0] for key in FROM_MEMORY} == FROM_MEMORY


def test_the_standards_say_the_same_as_those_of_the_boards():
    """ISO 16245 asks for at least 20 g/kg; type A limits the kappa number (published abstract)."""
    told = BY_KEY["iso_16245"].meaning

    assert "Type A also limits lignin" in told
    assert "kappa" in STANDARDS["iso_16245_a"].asks
    assert "photographs" in told
    assert "photographs" in STANDARDS["iso_16245_a"].limits


@pytest.mark.parametrize("name", TITLES)
def test_each_drawing_is_whole_and_has_a_title(name):
    drawing = ElementTree.fromstring(glossary_svg(name))

    assert drawing.find("{http://www.w3.org/2000/svg}title").text == TITLES[name]
    assert len(list(drawing)) > 3


@pytest.mark.parametrize(
    ("asked", "keys"),
    [
        ("kerf", ["kerf"]),
        ("Nesting", ["cutting_plan"]),
        ("guillotine", ["edge_to_edge"]),
        ("dog", []),
        ("photographic activity", ["pat"]),
    ],
)
def test_a_word_is_found_by_what_else_it_is_called(asked, keys):
    assert [one.term.key for *_, terms in found(asked) for one in terms] == keys


def test_the_page_has_a_place_for_every_term(viewer_page):
    page = viewer_page(reverse("housing:glossary"))

    assert re.findall(r'<div id="([a-z0-9_]+)"[^>]*>\s*<dt>', page) == [one.key for one in TERMS]


def test_the_page_searches(viewer_page):
    page = viewer_page(reverse("housing:glossary") + "?q=flute")

    assert 'id="flute"' in page
    assert 'id="campaign"' not in page


def test_what_is_not_found_says_what_to_do(viewer_page):
    assert "Try a shorter or another word" in viewer_page(reverse("housing:glossary") + "?q=%3Cdog%3E")


@pytest.fixture
def viewer_page(viewer):
    return lambda address: viewer.get(address).content.decode()


# ---- Words explained where they stand --------------------------------------------------------------------


def written(source: str) -> str:
    return Template("{% load terms %}" + source).render(Context())


def test_a_word_is_a_link_with_its_meaning_tied_to_it():
    html = written('{% term "flute" %}flute direction{% endterm %}')

    root = ElementTree.fromstring(html)
    link, note = root.find("a"), root.find("span")
    assert (link.text, link.get("href")) == ("flute direction", "/glossary/#flute")
    assert link.get("aria-describedby") == note.get("id")
    assert note.get("role") == "tooltip"
    assert note.text == BY_KEY["flute"].meaning


def test_two_notes_of_one_word_are_told_apart():
    ids = re.findall(r' id="([^"]+)"', written('{% marked_term "score" %}{% marked_term "score" %}'))

    assert len(set(ids)) == 2


def test_what_stands_in_the_word_is_escaped():
    html = Template('{% load terms %}{% term "cut" %}{{ word }}{% endterm %}').render(
        Context({"word": "<b>"})
    )

    assert "&lt;b&gt;" in html


def test_a_word_that_the_glossary_has_not_fails_loudly():
    with pytest.raises(KeyError):
        written('{% term "dog" %}dog{% endterm %}')


def test_every_word_marked_in_a_template_is_in_the_glossary(settings):
    marked = {
        (path.name, key)
        for path in (settings.BASE_DIR / TEMPLATES).rglob("*.html")
        for key in re.findall(r'{%\s*(?:term|marked_term) "([^"]+)"', path.read_text("utf-8"))
    }

    assert len(marked) > 20
    assert {(name, key) for name, key in marked if key not in BY_KEY} == set()


# ---- Guide -----------------------------------------------------------------------------------------------


def test_the_guide_lists_its_pages(viewer_page):
    page = viewer_page(reverse("housing:guide"))

    assert re.findall(r'href="/guide/(\w+)/"', page) == [each.key for each in PAGES]


@pytest.mark.parametrize("place", range(len(PAGES)))
def test_each_page_has_its_pictures_and_leads_on(viewer_page, settings, place):
    page = viewer_page(reverse("housing:guide-page", args=[PAGES[place].key]))

    pictures = re.findall(r'<img src="/static/([^"]+)" alt="([^"]+)" width="(\d+)" height="(\d+)"', page)
    assert pictures
    for address, alt, width, _ in pictures:
        assert (settings.BASE_DIR / "housing" / "static" / address).stat().st_size < 80_000
        assert len(alt) > 30
        assert int(width) > 300
    neighbours = re.findall(r'rel="(prev|next)" href="/guide/(\w+)/"', page)
    expected = [("prev", PAGES[place - 1].key)] if place else []
    expected += [("next", PAGES[place + 1].key)] if place + 1 < len(PAGES) else []
    assert neighbours == expected


def test_the_guide_has_no_other_page(viewer):
    assert viewer.get(reverse("housing:guide-page", args=["dog"])).status_code == 404


def test_the_way_around_has_the_guide_and_the_glossary(viewer_page):
    page = viewer_page("/")

    assert 'href="/guide/"' in page
    assert 'href="/glossary/"' in page
