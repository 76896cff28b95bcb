"""Finds the Chromium, Chrome or Edge that the browser tests drive."""

import os
import shutil
from pathlib import Path

NAMES = (
    "chromium",
    "chromium-browser",
    "google-chrome",
    "google-chrome-stable",
    "chrome",
    "microsoft-edge",
    "msedge",
)
USUAL_PLACES = (
    "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
    "/Applications/Chromium.app/Contents/MacOS/Chromium",
    "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    "C:/Program Files/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Google/Chrome/Application/chrome.exe",
    "C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe",
)
BROWSER_MISSING = (
    "no browser was found. Debian: sudo apt-get install chromium; "
    "elsewhere: python -m playwright install chromium; or name one in BROWSER_PATH"
)


def find_browser(playwrights_own: str) -> str | None:
    """The browser named in BROWSER_PATH, or the first found among the usual ones and Playwright's own."""
    if named := os.environ.get("BROWSER_PATH"):
        return named if Path(named).exists() else None
    on_path = (shutil.which(name) for name in NAMES)
    return next(
        (place for place in (*on_path, *USUAL_PLACES, playwrights_own) if place and Path(place).exists()),
        None,
    )


def launch_flags() -> list[str]:
    """Keeps the browser from the network and the graphics card; as root it starts only without a sandbox."""
    flags = ["--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
    flags += ["--disable-component-update", "--disable-sync"]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        flags.append("--no-sandbox")
    return flags
