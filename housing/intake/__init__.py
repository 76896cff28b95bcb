"""Lists of every kind, and taking them in: handed in, looked at, then saved whole or not at all."""

from boards.intake import BoardList, SupplyList
from housing.intake.designs import DesignList
from housing.intake.people import PersonList
from housing.intake.ready_made import ReadyMadeList
from housing.intake.rules import RuleList
from objects.intake import ListKind
from objects.intake.catalogue import ObjectList
from objects.intake.locations import LocationList

KINDS: dict[str, type[ListKind]] = {
    kind.key: kind
    for kind in (
        ObjectList, LocationList, BoardList, SupplyList, PersonList, DesignList, RuleList, ReadyMadeList,
    )
}  # fmt: skip
