"""The boxes of a campaign, a row each, as plain values."""

from typing import Any

from housing.models import Campaign, HousedObject, Housing


def box_rows(campaign: Campaign) -> list[dict[str, Any]]:
    """What each box is for, how it stands, its sizes in mm and its cost, by box number."""
    ties = (
        HousedObject.objects.filter(housing__campaign=campaign, is_live=True)
        .exclude(housing__status=Housing.Status.DROPPED)
        .select_related("object__location", "housing__design__board")
        .order_by("housing_id", "position")
    )
    batches = dict(campaign.memberships.values_list("object_id", "batch"))
    rows: dict[int, dict[str, Any]] = {}
    for tie in ties:
        batch = batches.get(tie.object_id, 1)
        if row := rows.get(tie.housing_id):
            row["Object number"] += f"; {tie.object.number}"
            row["Batch"] = min(row["Batch"], batch)
        else:
            rows[tie.housing_id] = _row(tie, batch)
    return list(rows.values())


def _row(tie: HousedObject, batch: int) -> dict[str, Any]:
    thing, box = tie.object, tie.housing
    return {
        "Box": box.box_number,
        "Object number": thing.number,
        "Name": thing.name,
        "Location": thing.location.path if thing.location else "",
        "Batch": batch,
        "Status": box.get_status_display(),
        "Waits because": box.problem_note,
        "Design": box.design.name if box.design else "",
        "Board": box.design.board.code if box.design else "",
        "Inside height mm": box.inner_z_mm,
        "Inside width mm": box.inner_x_mm,
        "Inside depth mm": box.inner_y_mm,
        "Outside height mm": box.outside_z_mm,
        "Outside width mm": box.outside_x_mm,
        "Outside depth mm": box.outside_y_mm,
        "Board cost": box.board_cost,
        "Glue cost": box.glue_cost,
        "Padding cost": box.padding_cost,
        "Work cost": box.labour_cost,
        "Other cost": box.other_cost,
        "Cost": box.cost,
        "Minutes": box.labour_minutes,
    }
