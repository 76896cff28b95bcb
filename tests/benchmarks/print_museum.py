"""Boxes of every form to print, with photos of some objects and places on a cutting plan; all made up."""

import random
from decimal import Decimal
from io import BytesIO
from itertools import batched, cycle, islice

from django.core.files.base import ContentFile
from PIL import Image, ImageDraw

from boards.core.board import BoardRefused
from housing.core.enclosures import ENCLOSURES
from housing.core.errors import EnclosureError
from housing.core.label_codes import new_code
from housing.models import (
    Blank,
    Campaign,
    CuttingPlan,
    Design,
    HousedObject,
    Housing,
    PlannedBlank,
    PlannedSheet,
)
from housing.services.housings import design_enclosure, set_sizes
from objects.models import CatalogueObject
from tests.factories import make_board, make_campaign, make_design, make_location, make_sheet_size

PHOTOS = 40  # different files; more would only take longer to make
WITH_PHOTO = 0.3  # of all objects
BLANKS_A_SHEET = 3
KINDS = ("Bowl", "Lidded jar", "Spoon with twisted handle", "Bound register", "Textile fragment, framed")


def fill(boxes: int, seed: int = 1) -> Campaign:
    """Write so many planned boxes into the database in use, which must be empty; all in one campaign."""
    chance = random.Random(seed)
    designs = _designs()
    shelves = [
        make_location(f"Store {room}, bay {bay:02d}, shelf {shelf}")
        for room in (1, 2) for bay in range(1, 9) for shelf in "ABCD"
    ]  # fmt: skip
    photos = [_photo(chance) for _ in range(PHOTOS)]
    campaign = make_campaign(name="Move of the store")
    forms = cycle(designs)
    made = 0
    while made < boxes:
        made += _box(made, next(forms), chance, shelves, photos, campaign)
    _lay_on_sheets(campaign)
    return campaign


def _designs() -> list[Design]:
    """A design of every form, on boards that are scored, creased and cut differently, some of them padded."""
    boards = [make_board(fold_share=share) for share in ("0", "0.5", "1")]
    for board in boards:
        make_sheet_size(board=board)
    return [
        make_design(
            name=f"{form.name} {number}", form=form.key, board=board,
            padding="washed cotton flannel over polyester wadding" if form.is_padded else "",
        )
        for number, (form, board) in enumerate(zip(ENCLOSURES.values(), cycle(boards)), start=1)
    ]  # fmt: skip


def _photo(chance: random.Random) -> str:
    """A picture as the planner keeps photos, 1600 pixels long; returns its name in the store of media."""
    picture = Image.effect_noise((1600, 1200), 24).convert("RGB")
    drawing = ImageDraw.Draw(picture)
    for _ in range(12):
        x, y = chance.randrange(1300), chance.randrange(900)
        colour = tuple(chance.randrange(60, 220) for _ in range(3))
        drawing.ellipse((x, y, x + 300, y + 260), fill=colour)
    file = BytesIO()
    picture.save(file, "JPEG", quality=85)
    storage = CatalogueObject._meta.get_field("photo").storage
    return storage.save("benchmark/photo.jpg", ContentFile(file.getvalue()))


def _box(
    number: int, design: Design, chance: random.Random, shelves: list, photos: list[str], campaign: Campaign
) -> int:
    """Write one box with its object; returns 0 where the form does not suit the size that was drawn."""
    flat = design.form in ("folder", "portfolio", "rolled_tube", "four_flap", "framed_tray")
    thing = CatalogueObject(
        number=f"1990.{number // 40}.{number}", number_key=f"{number:08d}",
        name=f"{chance.choice(KINDS)} {number}", classification="Ceramics", materials="earthenware",
        height_mm=Decimal(chance.randrange(3, 30) if flat else chance.randrange(40, 260)),
        width_mm=Decimal(chance.randrange(80, 420)), depth_mm=Decimal(chance.randrange(70, 330)),
        size_state="known", weight_g=Decimal(chance.randrange(100, 9_000)),
        hazards=chance.choice(("", "", "", "", "arsenic", "lead; sharp")),
        condition=chance.choice(("good", "fair", "fragile")), location=chance.choice(shelves),
        photo=chance.choice(photos) if chance.random() < WITH_PHOTO else "",
    )  # fmt: skip
    housing = Housing(campaign=campaign, design=design, status=Housing.Status.PLANNED, code=new_code(chance))
    try:
        enclosure = design_enclosure(design=design, contents=[thing])
    except (EnclosureError, BoardRefused):
        return 0
    set_sizes(housing, enclosure)
    thing.save()
    housing.save()
    campaign.objects_in_it.add(thing)
    HousedObject.objects.create(housing=housing, object=thing)
    Blank.objects.bulk_create(Blank.from_part(housing, part) for part in enclosure.parts)
    return 1


def _lay_on_sheets(campaign: Campaign) -> None:
    """Give every blank of board a place, as on a cutting plan; how well it is nested prints alike."""
    plan = CuttingPlan.objects.create(campaign=campaign, kerf_mm=1, trim_mm=5)
    blanks = Blank.objects.filter(material="board").select_related("housing__design__board")
    by_board = sorted(blanks, key=lambda blank: (blank.housing.design.board_id, blank.pk))
    for position, some in enumerate(batched(by_board, BLANKS_A_SHEET), start=1):
        size = some[0].housing.design.board.sheet_sizes.first()
        sheet = PlannedSheet.objects.create(
            plan=plan, position=position, board=size.board, sheet_size=size,
            along_mm=size.along_mm, across_mm=size.across_mm, price=size.price,
        )  # fmt: skip
        PlannedBlank.objects.bulk_create(
            PlannedBlank(
                sheet=sheet,
                blank=blank,
                x_mm=5 + 400 * place,
                y_mm=5,
                along_mm=blank.x_mm,
                across_mm=blank.y_mm,
            )
            for place, blank in enumerate(some)
        )


def boxes_in(campaign: Campaign, number: int) -> list[int]:
    """Keys of the first boxes of the campaign."""
    return list(islice(campaign.housings.order_by("pk").values_list("pk", flat=True), number))
