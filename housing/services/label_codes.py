"""Codes for labels: a box gets one when it is first printed and keeps it for good."""

import random
from collections.abc import Collection
from itertools import batched

from django.db import transaction

from housing.core.label_codes import new_code
from housing.models import Housing

MANY = 500


@transaction.atomic
def give_codes(*, boxes: Collection[int]) -> int:
    """Give a code to each of some boxes that has none yet. boxes: their keys. Returns how many were given."""
    chance, given = random.SystemRandom(), 0
    for some in batched(boxes, MANY):
        without = list(Housing.objects.select_for_update().filter(pk__in=some, code=None).only("pk"))
        codes: set[str] = set()
        while len(codes) < len(without):
            drawn = {new_code(chance) for _ in range(len(without) - len(codes))}
            codes |= drawn.difference(Housing.objects.filter(code__in=drawn).values_list("code", flat=True))
        for housing, code in zip(without, sorted(codes), strict=True):
            housing.code = code
        Housing.objects.bulk_update(without, ["code"])
        given += len(without)
    return given
