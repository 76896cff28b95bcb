"""Writes the font of the handling signs from their drawings, after one of them was changed."""

from django.core.management.base import BaseCommand

from housing.printing.sign_font import FONT_FILE, sign_font


class Command(BaseCommand):
    help = "Writes the font of the handling signs from their drawings. Needs the extra test."
    requires_system_checks: list[str] = []

    def handle(self, **options) -> None:
        FONT_FILE.write_bytes(sign_font())
        self.stdout.write(f"{FONT_FILE.name}: {FONT_FILE.stat().st_size:,} bytes")
