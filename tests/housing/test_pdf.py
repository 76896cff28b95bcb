"""PDF from a print page, and what is said where it cannot be made."""

import builtins
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import ImageFile
from pypdf import PdfReader

from housing import pdf
from housing.checks import check_pdf
from housing.pdf_files import FileRefused, own_file


@pytest.fixture
def no_pango(monkeypatch: pytest.MonkeyPatch):
    """WeasyPrint's import fails as it does where the Pango libraries are not installed: with OSError."""
    imported = builtins.__import__

    def refuse(name, *arguments, **keywords):
        if name == "weasyprint":
            raise OSError("cannot load library 'libpango-1.0-0'")
        return imported(name, *arguments, **keywords)

    monkeypatch.setattr(builtins, "__import__", refuse)
    monkeypatch.setattr(pdf, "_pango_opens", lambda: False)
    pdf.pdf_problem.cache_clear()
    yield
    pdf.pdf_problem.cache_clear()


@pytest.mark.pango
def test_a_page_becomes_a_pdf():
    page = "<style>@page { size: A4 }</style><h1>Cut sheet</h1>"

    [printed] = PdfReader(BytesIO(pdf.render_pdf(page))).pages

    assert printed.extract_text().strip() == "Cut sheet"
    # ISO 216: A4 is 210 x 297 mm; a point is 1/72 in
    assert [float(side) for side in printed.mediabox[2:]] == pytest.approx(
        [210 / 25.4 * 72, 297 / 25.4 * 72], abs=0.1
    )


@pytest.mark.pango
def test_nothing_is_read_from_the_network_or_from_elsewhere_on_the_disk(tmp_path: Path, caplog):
    (tmp_path / "secret.css").write_text("body { color: red }")
    links = [f"file://{tmp_path}/secret.css", "http://example.com/a.css"]
    linked = "".join(f'<link rel="stylesheet" href="{link}">' for link in links)
    page = f'<html lang="en">{linked}<p>still printed</p></html>'

    printed = PdfReader(BytesIO(pdf.render_pdf(page))).pages[0].extract_text()

    assert printed.strip() == "still printed"
    assert [
        record.message.rpartition(": ")[2] for record in caplog.records if record.name == "weasyprint"
    ] == [f"{link} is not a static or media file of this site" for link in links]


@pytest.mark.pango
def test_static_and_media_files_are_found_by_their_addresses(settings, tmp_path: Path):
    settings.MEDIA_ROOT = tmp_path

    found = own_file(pdf.BASE_URL, f"{pdf.BASE_URL}media/photos/a%20b.jpg?width=3")

    assert found == tmp_path / "photos" / "a b.jpg"


@pytest.mark.pango
@pytest.mark.parametrize(
    "path", ["media/../secret_key", "media/%2e%2e/secret_key", "static/../manage.py", "admin/"]
)
def test_an_address_that_leaves_the_sites_files_is_refused(path: str):
    from django.core.exceptions import SuspiciousFileOperation

    with pytest.raises((FileRefused, SuspiciousFileOperation)):
        own_file(pdf.BASE_URL, pdf.BASE_URL + path)


@pytest.mark.pango
def test_nothing_is_said_where_pdf_can_be_made():
    assert check_pdf() == []


def test_without_pango_the_check_names_the_command_for_each_system(no_pango):
    [warning] = check_pdf()

    commands = [
        line.split(":", 1)[0].strip()
        for line in warning.msg.splitlines()
        if line.startswith("  ") and ":" in line
    ]
    assert commands == ["Debian, Ubuntu", "Fedora", "macOS", "Windows"]


def test_without_pango_asking_for_a_pdf_says_what_to_install(no_pango):
    with pytest.raises(pdf.PdfUnavailable) as refusal:
        pdf.render_pdf("<p>Cut sheet</p>")

    assert str(refusal.value) == pdf.PANGO_MISSING


@pytest.mark.pango
def test_making_pdf_does_not_let_half_a_photo_pass_as_a_whole_one():
    pdf.render_pdf("<p>A page</p>")

    assert ImageFile.LOAD_TRUNCATED_IMAGES is False


# ---- What assistive technology is told ---------------------------------------------------------------------


@pytest.mark.pango
def test_a_file_says_its_language_and_title_and_is_tagged():
    table = "<table><tr><th>A</th><td>1</td></tr></table>"
    page = f'<html lang="es"><title>Hoja de corte</title><h1>Caja</h1>{table}</html>'

    with pikepdf.open(BytesIO(pdf.render_pdf(page))) as printed:
        root = printed.Root

        assert (str(root.Lang), bool(root.MarkInfo.Marked)) == ("es", True)
        with printed.open_metadata() as metadata:
            # ISO 14289-1, 5: the part of the standard a file keeps to; from memory
            assert (metadata["pdfuaid:part"], metadata["dc:title"]) == ("1", "Hoja de corte")
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        assert tags_in(root.StructTreeRoot.K[0]) == ["Document", "H1", "Table", "TBody", "TR", "TH", "TD"]


@pytest.mark.pango
def test_cells_point_at_headings_that_the_file_lists():
    page = '<html lang="en"><title>T</title><table><tr><th scope="row">A</th><td>1</td></tr></table>'

    with pikepdf.open(BytesIO(pdf.render_pdf(page))) as printed:
        tree = printed.Root.StructTreeRoot
        [head, cell] = [tag for tag in all_tags(tree.K[0]) if tag.S in ("/TH", "/TD")]

        # ISO 32000-1, table 322: the names of structure elements are listed in the root's IDTree; from memory
        assert list(tree.IDTree.Names)[::2] == [head.ID] == list(cell.A.Headers)


@pytest.mark.pango
def test_the_fonts_of_a_file_are_embedded_and_ours():
    page = (
        '<html lang="en"><link rel="stylesheet" href="static/housing/print.css"><title>T</title>'
        "<p>Plain ⅜ × ≥ <b>bold ñ ç œ</b></p>"
    )

    with pikepdf.open(BytesIO(pdf.render_pdf(page))) as printed:
        fonts = [item for item in printed.objects if is_of_type(item, "/FontDescriptor")]

        names = {str(font.FontName).rpartition("+")[2].removeprefix("/") for font in fonts}
        assert names == {"DejaVu-Sans", "DejaVu-Sans-Bold"}
        assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts)


def is_of_type(item, name: str) -> bool:
    return isinstance(item, pikepdf.Dictionary) and item.get("/Type") == name


def all_tags(tag) -> list:
    below = [child for child in tag.get("/K", ()) if isinstance(child, pikepdf.Dictionary)]
    return [tag, *(found for child in below for found in all_tags(child))]


def tags_in(tag) -> list[str]:
    """The tags of what is marked, without those that mean nothing."""
    names = [str(found.S).removeprefix("/") for found in all_tags(tag)]
    return [name for name in names if name not in ("NonStruct", "Span")]
