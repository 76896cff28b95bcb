"""Photos that a list names by file: taken from one folder only, and only by a plain file name."""

import re
from pathlib import Path

from django.core.files import File
from PIL import Image, UnidentifiedImageError

from objects.core.words import say
from objects.intake.rows import Row
from objects.models import CatalogueObject

SAFE_NAME = re.compile(r"\w[\w .()-]{0,78}\.(png|jpe?g|webp|gif)", re.IGNORECASE)


def photo_name(row: Row, key: str, folder: Path) -> str:
    """The file name in a cell if that photo can be used; a note on the row if not."""
    if not (name := row.cell(key)):
        return ""
    if not SAFE_NAME.fullmatch(name):
        row.notes.append(
            say("Photo “{name}” is not the plain name of a PNG, JPEG, WebP or GIF file; left out.", name=name)
        )
        return ""
    path = folder / name
    if not path.is_file() or path.resolve().parent != folder.resolve():
        row.notes.append(say("Photo “{name}” is not in the folder of photos; left out.", name=name))
        return ""
    return name


class PhotoFolder:
    """Copies photos into the site's storage once each; takes the copies back when saving fails."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder
        self.field = CatalogueObject._meta.get_field("photo")
        self.stored: dict[str, str] = {}
        self.copied: list[str] = []

    def __enter__(self) -> "PhotoFolder":
        return self

    def __exit__(self, kind, error, trace) -> None:
        if kind is not None:
            for name in self.copied:
                self.field.storage.delete(name)

    def store(self, name: str) -> str:
        """The stored name of a photo, empty when the file is no picture."""
        if name not in self.stored:
            path = self.folder / name
            try:
                with Image.open(path) as picture:
                    picture.verify()
            except (UnidentifiedImageError, Image.DecompressionBombError, OSError, SyntaxError):
                return ""
            self.stored[name] = self._copy(path)
        return self.stored[name]

    def _copy(self, path: Path) -> str:
        """The name storage keeps this photo under; one already there with the same content serves again."""
        storage, name = self.field.storage, f"{self.field.upload_to}/{path.name}"
        if storage.exists(name):
            with storage.open(name) as kept:
                if kept.read() == path.read_bytes():
                    return name
        with path.open("rb") as file:
            self.copied.append(storage.save(name, File(file)))
        return self.copied[-1]
