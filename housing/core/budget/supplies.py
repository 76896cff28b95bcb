"""What boxes take besides board: glue, tape, labels, lining, and what fills the gap around the objects."""

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from decimal import Decimal

from housing.core.budget.facts import BoxFacts
from housing.core.budget.glue import GlueFigures
from housing.core.budget.lines import Problem, Section, Target
from housing.core.budget.purchases import MaterialNeed
from objects.core.words import noted

G_PER_KG = 1000.0
M, M2 = "m", "m²"
MEASURED = {M, M2}
LINED = noted(
    "floor and walls of {count:,} boxes, {area:,.2f} m², without waste; what is cut away is in "
    "the spoiled share"
)
LINED_THICK = noted(
    "floor and walls of {count:,} boxes, {area:,.2f} m² ({litres:,.1f} litres), without waste; what is cut "
    "away is in the spoiled share"
)


@dataclass(frozen=True)
class SupplyFacts:
    """A supply as it is bought. kind: glue, tape, label, foam, tissue, batting or other; price: of a pack.

    grams_each: of a unit of glue. fills_litres: of gap a unit of tissue or batting fills.
    """

    key: str
    name: str
    kind: str
    unit: str
    pack: Decimal = Decimal(1)
    price: Decimal | None = None
    spoilage_share: Decimal = Decimal()
    on_hand: Decimal = Decimal()
    breaks: tuple[tuple[int, Decimal], ...] = ()
    supplier: str = ""
    priced_on: date | None = None
    is_withdrawn: bool = False
    is_usual: bool = False
    grams_each: float | None = None
    fills_litres: float | None = None


@dataclass(frozen=True)
class SupplyTerms:
    """How supplies are used: the bead of glue, labels on a box, the share of the gap that is filled.

    glue_price_kg, lining_prices (by name in small letters, a square metre): used where no supply is listed.
    """

    glue: GlueFigures = field(default_factory=GlueFigures)
    labels_each: int = 1
    gap_filled_share: float = 0.0
    glue_price_kg: Decimal = Decimal()
    lining_prices: Mapping[str, Decimal] = field(default_factory=dict)


def supply_needs(
    boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts], terms: SupplyTerms
) -> tuple[list[MaterialNeed], list[Problem]]:
    """What all boxes together take of each supply, and what no supply is listed for.

    A lining and what a form asks for are found by name; glue, labels and filling by the usual one.
    Source: glue by glue.py; areas and gaps are sums over the boxes; the share of the gap filled is assumed.
    """
    asked = [
        *_glue(boxes, supplies, terms),
        *_labels(boxes, supplies, terms),
        *_linings(boxes, supplies, terms),
        *_filling(boxes, supplies, terms),
        *_of_forms(boxes, supplies),
    ]
    needs: dict[str, MaterialNeed] = {}
    problems = [one for one in asked if isinstance(one, Problem)]
    for need in (one for one in asked if isinstance(one, MaterialNeed)):
        before = needs.get(need.key)
        needs[need.key] = need if before is None else _both(before, need)
    return list(needs.values()), problems


type Asked = Iterator[MaterialNeed | Problem]


def _both(first: MaterialNeed, second: MaterialNeed) -> MaterialNeed:
    """One need of what two uses take of the same supply."""
    told = f"{first.computed_from}; and {second.computed_from}"
    return replace(first, needed=first.needed + second.needed, computed_from=told)


def _usual(supplies: Sequence[SupplyFacts], kind: str) -> SupplyFacts | None:
    of_kind = [one for one in supplies if one.kind == kind and one.is_usual]
    return of_kind[0] if of_kind else None


def _need(supply: SupplyFacts, section: Section, needed: float, computed_from: str) -> MaterialNeed:
    return MaterialNeed(
        key=f"supply:{supply.key}",
        section=section,
        what=supply.name,
        unit=supply.unit,
        needed=Decimal(f"{needed:.6f}"),
        computed_from=computed_from,
        target=Target("supply", supply.key),
        price=supply.price,
        spoilage_share=supply.spoilage_share,
        on_hand=supply.on_hand,
        pack=supply.pack,
        breaks=supply.breaks,
        supplier=supply.supplier,
        priced_on=supply.priced_on,
        is_withdrawn=supply.is_withdrawn,
    )


def _glue(boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts], terms: SupplyTerms) -> Asked:
    made = [box for box in boxes if not box.ready_made]
    metres = math.fsum(box.joint_m for box in made)
    if not metres:
        return
    grams = terms.glue.grams(metres * 1000)
    told = noted(
        "{metres:,.1f} m of glue joints, {beads} beads of {bead_mm:g} mm: {kg:,.2f} kg, "
        "or {sticks:,.1f} sticks of 7/16 × 10 in"
    ).format(
        metres=metres,
        beads=terms.glue.beads_per_joint,
        bead_mm=terms.glue.bead_mm,
        kg=grams / G_PER_KG,
        sticks=terms.glue.sticks(grams),
    )
    supply = _usual(supplies, "glue")
    if supply is None:
        yield MaterialNeed(
            key="glue",
            section=Section.ADHESIVE,
            what=noted("Glue"),
            unit="kg",
            needed=Decimal(f"{grams / G_PER_KG:.6f}"),
            computed_from=noted(
                "{told}, at the campaign's price of a kilogram since no glue is listed"
            ).format(told=told),
            target=Target("campaign"),
            price=terms.glue_price_kg,
            is_fallback=True,
        )
        return
    each = supply.grams_each or (G_PER_KG if supply.unit == "kg" else 0.0)
    if not each:
        yield Problem(
            noted("How many grams a {unit} of {name} has is not entered").format(
                unit=supply.unit, name=supply.name
            ),
            noted("{kg:,.2f} kg of glue are missing from the sum").format(kg=grams / G_PER_KG),
            noted("Enter its grams"),
            Target("supply", supply.key),
        )
        return
    yield _need(supply, Section.ADHESIVE, grams / each, told)


def _labels(boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts], terms: SupplyTerms) -> Asked:
    number = len(boxes) * terms.labels_each
    if not number:
        return
    told = noted("{each} on each of {count:,} boxes").format(each=terms.labels_each, count=len(boxes))
    if supply := _usual(supplies, "label"):
        yield _need(supply, Section.SUPPLIES, float(number), told)
    else:
        yield _unlisted(
            noted("labels"),
            noted("{count:,} labels").format(count=number),
            noted("Enter the labels you use, marked as the usual ones"),
        )


def _linings(boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts], terms: SupplyTerms) -> Asked:
    of_name: defaultdict[str, list[BoxFacts]] = defaultdict(list)
    for box in boxes:
        if box.lining and box.lining_m2:
            of_name[box.lining].append(box)
    listed = {one.name.casefold(): one for one in supplies}
    for name, lined in sorted(of_name.items()):
        area = math.fsum(box.lining_m2 for box in lined)
        litres = math.fsum(box.lining_m2 * box.lining_mm for box in lined)
        told = (LINED_THICK if litres else LINED).format(count=len(lined), area=area, litres=litres)
        if supply := listed.get(name.casefold()):
            if supply.unit == M2:
                yield _need(supply, Section.PADDING, area, told)
            else:
                yield _miscounted(supply, noted("{area:,.2f} m² of lining").format(area=area), "m²")
            continue
        yield MaterialNeed(
            key=f"lining:{name}",
            section=Section.PADDING,
            what=name,
            unit="m²",
            needed=Decimal(f"{area:.6f}"),
            computed_from=noted("{told}, at the design's own price since no supply has this name").format(
                told=told
            ),
            target=Target("designs"),
            price=terms.lining_prices.get(name.casefold()),
            is_fallback=True,
        )


def _filling(boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts], terms: SupplyTerms) -> Asked:
    litres = math.fsum(box.gap_litres for box in boxes) * terms.gap_filled_share
    if not litres:
        return
    supply = _usual(supplies, "tissue") or _usual(supplies, "batting")
    told = noted("{share:.0%} of the gap between objects and boxes, {litres:,.1f} litres").format(
        share=terms.gap_filled_share, litres=litres
    )
    if supply is None:
        yield _unlisted(
            noted("tissue or batting"),
            noted("{litres:,.0f} litres of filling").format(litres=litres),
            noted("Enter the one you use, marked as the usual one"),
        )
    elif not supply.fills_litres:
        yield Problem(
            noted("How many litres a {unit} of {name} fills is not entered").format(
                unit=supply.unit, name=supply.name
            ),
            noted("{litres:,.0f} litres of filling are missing from the sum").format(litres=litres),
            noted("Enter what it fills"),
            Target("supply", supply.key),
        )
    else:
        yield _need(supply, Section.PADDING, litres / supply.fills_litres, told)


def _of_forms(boxes: Sequence[BoxFacts], supplies: Sequence[SupplyFacts]) -> Asked:
    """What forms ask for by name: in metres or square metres where they say a size, else by the piece."""
    counted: defaultdict[str, list[tuple[int, float]]] = defaultdict(list)
    for box in boxes:
        for name, number, size in box.supplies:
            counted[name].append((number, size))
    listed = {one.name.casefold(): one for one in supplies}
    for name, asked in sorted(counted.items()):
        pieces, together = sum(n for n, _ in asked), math.fsum(n * each for n, each in asked)
        of_it = noted("{pieces:,} of it in {count:,} box")
        if len(asked) != 1:
            of_it = noted("{pieces:,} of it in {count:,} boxes")
        told = of_it.format(pieces=pieces, count=len(asked))
        supply = listed.get(name.casefold()) or (
            _usual(supplies, "tape") if together and "tape" in name else None
        )
        if supply is None:
            if together:
                told = noted("{told}, {together:,.2f} m or m² together").format(told=told, together=together)
            yield _unlisted(
                name, told, noted("Enter a supply named “{name}” with its price").format(name=name)
            )
        elif together and supply.unit not in MEASURED:
            yield _miscounted(supply, told, noted("m or m², since boxes take a length or an area of it"))
        elif not together and supply.unit in MEASURED:
            yield _miscounted(supply, told, noted("pieces, since boxes take whole ones"))
        else:
            if together:
                told = noted("{told}, {together:,.2f} {unit} together").format(
                    told=told, together=together, unit=supply.unit
                )
            yield _need(supply, Section.SUPPLIES, together or float(pieces), told)


def _miscounted(supply: SupplyFacts, how_much: str, wanted: str) -> Problem:
    return Problem(
        noted("{name} is counted in {unit}").format(name=supply.name, unit=supply.unit),
        noted("{told}: what they cost is missing from the sum").format(told=how_much),
        noted("Count it in {unit}").format(unit=wanted),
        Target("supply", supply.key),
    )


def _unlisted(what: str, how_much: str, do: str) -> Problem:
    return Problem(
        noted("No supply is listed for {what}").format(what=what),
        noted("{told} are missing from the sum").format(told=how_much),
        do,
        Target("supplies"),
    )
