"""What is looked for on a page: its layout at three widths, contrast in the dark, and structure."""

import json
import os
import re
from functools import cache
from importlib.resources import files
from pathlib import Path

from playwright.sync_api import Page

WIDTHS = (1280, 768, 320)  # a desk, a tablet, and 320 CSS px as in WCAG 2.2, 1.4.10; 1280 at 400 % is 320
HEIGHT = 900
# Set SCREENSHOTS to a folder to keep a picture of every page at every width, and of every print.
PICTURES = os.environ.get("SCREENSHOTS", "")
AXE = {
    "runOnly": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    "resultTypes": ["violations"],
}
CONTRAST = {"runOnly": {"type": "rule", "values": ["color-contrast"]}, "resultTypes": ["violations"]}


@cache
def _script(name: str) -> str:
    return (Path(__file__).parent / name).read_text()


@cache
def _axe() -> str:
    return (files("axe_playwright_python") / "axe.min.js").read_text()


def faults_of(page: Page, name: str) -> list[str]:
    """Everything wrong with the page shown, at each width, in daylight and in the dark."""
    faults = []
    page.emulate_media(color_scheme="light", reduced_motion="reduce")
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": HEIGHT})
        keep_picture(page, f"{name}-{width}")
        faults += [f"{width} px: {fault}" for fault in layout_faults(page)]
        if width == WIDTHS[0]:
            faults += _axe_says(page, AXE, "axe")
            page.emulate_media(color_scheme="dark", reduced_motion="reduce")
            keep_picture(page, f"{name}-dark")
            faults += _axe_says(page, CONTRAST, "axe in the dark")
            page.emulate_media(color_scheme="light", reduced_motion="reduce")
    return faults


def layout_faults(page: Page) -> list[str]:
    """What runs out of the page shown, lies on other words or is cut off."""
    return page.evaluate(_script("faults.js"))


def keep_picture(page: Page, name: str) -> None:
    if PICTURES:
        Path(PICTURES).mkdir(parents=True, exist_ok=True)
        page.screenshot(path=f"{PICTURES}/{name}.png", full_page=True)


def file_name(address: str) -> str:
    """A file name for an address: /boards/3/edit/ becomes boards-3-edit."""
    return re.sub(r"\W+", "-", address).strip("-") or "home"


def _axe_says(page: Page, options: dict, who: str) -> list[str]:
    page.evaluate(f"() => {{ if (!window.axe) {{ {_axe()} }} }}")
    found = page.evaluate(f"() => axe.run(document, {json.dumps(options)})")
    return [
        f"{who}: {broken['id']}: {broken['help']}: {node['html'][:160]}"
        for broken in found["violations"]
        for node in broken["nodes"][:3]
    ]
