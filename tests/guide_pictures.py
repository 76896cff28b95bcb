"""Takes the pictures of the guide from the running demo: python -m tests.guide_pictures http://127.0.0.1:8000

The demo must be as it was first loaded. Pictures are taken by daylight and in English, and written
as WebP into housing/static/housing/guide, with their sizes in pictures.json.
"""

import argparse
import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from PIL import Image
from playwright.sync_api import Page, sync_playwright

from tests.browser import find_browser, launch_flags

FOLDER = Path(__file__).resolve().parents[1] / "housing" / "static" / "housing" / "guide"
PASSWORD = "board-and-bone-folder"  # of the demo, published in README
WIDE = {"width": 1100, "height": 760}
PHONE = {"width": 390, "height": 780}
QUALITY = 72


@dataclass(frozen=True)
class Picture:
    """One picture. find: goes to its page; who: signs in; window: in pixels, WIDE where none is given;
    highest: of the picture, in pixels."""

    name: str
    find: Callable[[Page, str], None]
    who: str = "manager"
    window: dict[str, int] | None = None
    highest: int = 760


def to(address: str) -> Callable[[Page, str], None]:
    """Goes to an address of the site."""
    return lambda page, site: page.goto(site + address)


def campaign_page(rest: str, name: str = "The move to the new store") -> Callable[[Page, str], None]:
    """Goes to a page of a campaign of the demo."""

    def find(page: Page, site: str) -> None:
        page.goto(f"{site}/campaigns/")
        link = page.get_by_role("main").get_by_role("link", name=name)
        href = link.get_attribute("href")
        page.goto(f"{site}{href}{rest}")

    return find


def design(page: Page, site: str) -> None:
    """A design, tried with a size: its blank."""
    page.goto(f"{site}/designs/")
    page.get_by_role("main").get_by_role("link", name="Standard lidded tray").click()
    page.goto(f"{page.url}try/?height=254+mm&width=222+mm&depth=181+mm")
    to_first_drawing(page, "svg.blank")


def to_first_drawing(page: Page, which: str) -> None:
    page.locator(which).first.scroll_into_view_if_needed()
    page.evaluate(
        "which => scrollTo(0, document.querySelector(which).getBoundingClientRect().top + scrollY - 130)",
        which,
    )


def staged_list(page: Page, site: str) -> None:
    """The list of objects handed in again with three changes; it is dropped after the picture."""
    page.goto(f"{site}/import/?kind=objects")
    rows = (
        "Object number,Name,Dimensions,Weight,Location\n"
        '2026.4.1,Sugar box,"H 14.5 x W 19 x D 12 cm",620 g,Old Maltings / Loft / Bay E / Shelf 2\n'
        '2026.4.2,Tile,"6 x 6 x 1/2 in.",310 g,Old Maltings / Loft / Bay E / Shelf 2\n'
        "2026.4.3,Net float,approx. 20 x 8,,Old Maltings / Loft / Bay E / Shelf 2\n"
        "2026.4.4,Caulking iron,24 x 7 x 3 cm,1.2 kg,Old Maltings / Loft / Bay E / Shelf 3\n"
    )
    page.locator("input[type=file]").set_input_files(
        {"name": "new-this-year.csv", "mimeType": "text/csv", "buffer": rows.encode()}
    )
    page.get_by_role("button", name="Read the list").click()
    page.wait_for_url(re.compile(r"/import/\d+/"))
    page.get_by_text("2026.4.1").first.scroll_into_view_if_needed()
    page.evaluate("scrollBy(0, 320)")


def sheet(page: Page, site: str) -> None:
    campaign_page("plan/")(page, site)
    to_first_drawing(page, "svg.drawing")


def labels(page: Page, site: str) -> None:
    """Labels of the small campaign, whose boxes are made."""
    campaign_page("", "The pilot: glass")(page, site)
    key = page.url.rstrip("/").rpartition("/")[2]
    page.goto(f"{site}/prints/labels/?campaign={key}")


def survey(page: Page, site: str) -> None:
    page.goto(f"{site}/catalogue/survey/")
    page.get_by_role("main").get_by_role("link").filter(has_text=re.compile("Shelf 1")).first.click()
    page.wait_for_load_state("networkidle")


def housed_object(page: Page, site: str) -> None:
    page.goto(f"{site}/objects/?status=housed")
    page.locator("main td a[href^='/objects/']").first.click()


PICTURES = (
    Picture("home", to("/")),
    Picture("boards", to("/boards/"), highest=620),
    Picture("import", staged_list),
    Picture("need", to("/need/")),
    Picture("survey", survey, who="surveyor", window=PHONE),
    Picture("design", design),
    Picture("rules", campaign_page("rules/")),
    Picture("plan", sheet),
    Picture("budget", campaign_page("budget/")),
    Picture("bench", to("/bench/"), who="maker", window={"width": 900, "height": 700}),
    Picture("labels", labels, window={"width": 900, "height": 640}),
    Picture("object", housed_object),
    Picture("report", to("/report/")),
)


def take(page: Page, site: str, picture: Picture) -> tuple[int, int]:
    """Write one picture; returns its width and height in pixels."""
    picture.find(page, site)
    page.wait_for_load_state("networkidle")
    shot = Image.open(BytesIO(page.screenshot(animations="disabled")))
    # Without the side bar, which is the same everywhere, the words are large enough to be read.
    left = int(page.evaluate("document.querySelector('.side-wide:not([hidden])')?.offsetWidth ?? 0"))
    shot = shot.convert("RGB").crop((left, 0, shot.width, min(shot.height, picture.highest)))
    shot.save(FOLDER / f"{picture.name}.webp", quality=QUALITY, method=6)
    return shot.size


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("site", help="Address of the running demo")
    asked.add_argument("--only", default="", help="Names of pictures, with commas between them")
    given = asked.parse_args()
    sizes_file = FOLDER / "pictures.json"
    sizes = json.loads(sizes_file.read_text()) if sizes_file.exists() else {}
    with sync_playwright() as playwright:
        path = find_browser(playwright.chromium.executable_path)
        browser = playwright.chromium.launch(executable_path=path, args=launch_flags())
        for picture in PICTURES:
            if given.only and picture.name not in given.only.split(","):
                continue
            context = browser.new_context(
                viewport=picture.window or WIDE, color_scheme="light", locale="en-GB", reduced_motion="reduce"
            )
            page = context.new_page()
            sign_in(page, given.site, picture.who)
            sizes[picture.name] = take(page, given.site, picture)
            print(f"{picture.name}: {(FOLDER / f'{picture.name}.webp').stat().st_size / 1024:.0f} kB")
            if picture.find is staged_list:
                page.get_by_role("button", name=re.compile("Put the list aside")).first.click()
            context.close()
        browser.close()
    sizes_file.write_text(json.dumps(dict(sorted(sizes.items())), indent=1) + "\n")


def sign_in(page: Page, site: str, who: str) -> None:
    page.goto(f"{site}/accounts/login/")
    page.locator("input[name=username]").fill(who)
    page.locator("input[name=password]").fill(PASSWORD)
    page.get_by_role("main").locator("button[type=submit]").click()
    page.wait_for_url(f"{site}/")


if __name__ == "__main__":
    main()
