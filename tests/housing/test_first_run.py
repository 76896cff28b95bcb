"""The first steps of a new museum: each with its sample, its next step, and the way back."""

import pytest
from django.urls import reverse

from boards.models import Board, SheetSize, StockMovement, Supplier
from housing.intake.samples import take_sample, take_samples
from housing.models import Campaign, CuttingPlan, Design, DesignRule, Housing
from housing.queries.first_run import first_steps
from housing.queries.samples import KINDS, in_the_way, taken_samples
from housing.services.samples import SamplesRefused, remove_samples
from objects.models import CatalogueObject, ListImport, Location
from tests.factories import make_campaign, make_design, make_object, make_sheet_size

pytestmark = pytest.mark.django_db
PAGE = "/first-steps/"
EVERYTHING = (
    Board, SheetSize, StockMovement, Supplier, CatalogueObject, Location, Design, DesignRule, Campaign,
    Housing, CuttingPlan,
)  # fmt: skip


@pytest.fixture(autouse=True)
def short_search(monkeypatch):
    """These tests do not ask how little board a plan takes."""
    monkeypatch.setattr("housing.services.first_run.SEARCH_SECONDS", 1)


@pytest.fixture
def take_all(manager, django_capture_on_commit_callbacks):
    """Takes all samples and plans them, as one button does."""

    def take() -> None:
        with django_capture_on_commit_callbacks(execute=True):
            manager.post(reverse("housing:first-run-all"))

    return take


def records() -> dict[str, int]:
    return {model.__name__: model.objects.count() for model in EVERYTHING}


def state() -> dict[str, bool]:
    return {step.key: step.is_done for step in first_steps()}


# ---- The way forward -------------------------------------------------------------------------------------


def test_each_step_leads_to_the_next(manager, django_capture_on_commit_callbacks):
    ways = []
    for kind in KINDS:
        answer = manager.post(reverse("housing:first-run-sample", args=[kind]))
        ways.append(answer.url)
    with django_capture_on_commit_callbacks(execute=True):
        answer = manager.post(reverse("housing:first-run-campaign"))

    assert [*ways, answer.url] == [
        f"{PAGE}#objects",
        f"{PAGE}#designs",
        f"{PAGE}#campaign",
        f"{PAGE}#campaign",
    ]
    assert state() == dict.fromkeys(("boards", "objects", "designs", "campaign"), True)


def test_all_samples_at_once_end_in_a_plan(manager, take_all):
    take_all()

    assert set(taken_samples()) == set(KINDS)
    assert CuttingPlan.objects.get().campaign.memberships.count() == 38  # of 40 one is housed, one needs none
    page = manager.get(PAGE).content.decode()
    assert "Print the first cut sheet" in page


def test_the_first_cut_sheet_is_one_click_away_and_holds_a_blank(manager, take_all):
    take_all()
    stands = manager.get(PAGE).context["stands"]

    sheet = manager.get(reverse("housing:print-cut-sheets"), {"object": stands.first_object})

    assert sheet.status_code == 200
    assert "Cut sheet of SAMPLE.1," in sheet.content.decode()


def test_of_the_sample_only_what_has_no_sure_size_waits(manager, take_all):
    """A sample that does not fit its own boards would teach the wrong thing."""
    take_all()

    waiting = Housing.objects.filter(status="waiting").values_list("contents__object__number", "problem")

    assert set(waiting) == {("SAMPLE.39", "unmeasured"), ("SAMPLE.40", "check")}


@pytest.mark.parametrize("kind", KINDS)
def test_no_row_of_a_sample_is_refused(kind):
    take_sample(kind="boards")
    listed = taken_samples()["boards"] if kind == "boards" else take_sample(kind=kind)

    assert listed.counts["refused"] == 0


def test_designs_bring_their_boards(manager):
    manager.post(reverse("housing:first-run-sample", args=["designs"]))

    assert set(taken_samples()) == {"boards", "designs"}


def test_own_records_count_as_a_step_done(manager):
    make_sheet_size()
    make_object()

    assert state() == {"boards": True, "objects": True, "designs": False, "campaign": False}
    assert next(step.key for step in first_steps() if step.is_next) == "designs"


def test_a_campaign_of_own_objects_is_planned_with_the_shipped_rules(
    manager, django_capture_on_commit_callbacks
):
    make_object(classification="Ceramics", materials="stoneware")
    size = make_sheet_size(along_mm=2000, across_mm=1500)
    make_design(board=size.board)

    with django_capture_on_commit_callbacks(execute=True):
        manager.post(reverse("housing:first-run-campaign"))

    campaign = Campaign.objects.get()
    assert campaign.rules.count() == 35  # fixtures/rules.csv
    assert campaign.housings.get().status == Housing.Status.PLANNED


def test_a_sample_can_be_downloaded_to_see_how_it_is_written(manager):
    answer = manager.get(reverse("housing:first-run-file", args=["boards"]))

    assert b"".join(answer.streaming_content).startswith(b"Code,Name,Construction")


def test_the_import_page_knows_what_it_was_asked_for(manager):
    page = manager.get("/import/?kind=boards")

    assert page.context["form"]["kind"].value() == "boards"


# ---- Refusals --------------------------------------------------------------------------------------------


def test_a_sample_is_taken_once(manager):
    for _ in range(2):
        manager.post(reverse("housing:first-run-sample", args=["boards"]))

    assert Board.objects.count() == 5
    assert ListImport.objects.count() == 1


def test_a_second_campaign_is_not_made(manager, take_all):
    take_all()

    page = manager.post(reverse("housing:first-run-campaign"), follow=True)

    assert Campaign.objects.count() == 1
    assert "There is a campaign already" in page.content.decode()


def test_without_objects_in_need_no_campaign_is_made(manager):
    make_object(present_housing="good")

    page = manager.post(reverse("housing:first-run-campaign"), follow=True)

    assert not Campaign.objects.exists()
    assert "No object needs a box" in page.content.decode()


def test_there_is_no_sample_of_another_kind(manager):
    assert manager.post(reverse("housing:first-run-sample", args=["people"])).status_code == 404
    assert manager.get(reverse("housing:first-run-file", args=["rules"])).status_code == 404


@pytest.mark.parametrize("name", ["first-run-all", "first-run-campaign", "first-run-remove"])
def test_only_managers_take_the_steps(maker, name):
    assert maker.post(reverse(f"housing:{name}")).status_code == 403


def test_others_see_the_steps_without_buttons(viewer):
    page = viewer.get(PAGE).content.decode()

    assert "A manager takes these steps" in page
    assert "Take the sample" not in page


# ---- The way back ----------------------------------------------------------------------------------------


def test_removing_the_samples_leaves_the_museum_as_it_was(manager):
    make_campaign(make_object(), name="Own")
    make_sheet_size(board=make_design().board)
    before = records()
    take_samples()
    manager.post(reverse("housing:first-run-campaign"))  # refused, since there is a campaign

    page = manager.post(reverse("housing:first-run-remove"), follow=True)

    assert "The samples are removed: 40 objects, 5 boards, 17 designs" in page.content.decode()
    assert records() == before


def test_a_planned_sample_campaign_goes_too(manager, take_all):
    before = records()
    take_all()

    manager.post(reverse("housing:first-run-remove"))

    assert records() == before
    assert taken_samples() == {}


def test_removed_samples_can_be_taken_again(manager, take_all):
    for _ in range(2):
        take_all()
        assert CatalogueObject.objects.count() == 40
        manager.post(reverse("housing:first-run-remove"))

    assert CatalogueObject.objects.count() == 0


def test_an_own_object_in_the_sample_campaign_keeps_all(manager, take_all):
    take_all()
    campaign = Campaign.objects.get()
    campaign.objects_in_it.add(make_object())
    before = records()

    answer = manager.post(reverse("housing:first-run-remove"))

    assert answer.status_code == 409
    assert [each.why for each in in_the_way()] == ["it holds objects of your own besides those of the sample"]
    assert records() == before


def test_begun_work_keeps_all(manager, take_all):
    take_all()
    box = Housing.objects.filter(status="planned").first()
    box.status = "in_work"
    box.save()

    with pytest.raises(SamplesRefused) as refused:
        remove_samples()

    assert [each.why for each in refused.value.in_the_way] == ["work on its boxes has begun"]


def test_an_own_design_on_a_sample_board_keeps_all(manager):
    take_samples()
    make_design(board=Board.objects.get(code="SAMPLE-B"))

    assert [(each.words, each.why) for each in in_the_way()] == [
        (str(Board.objects.get(code="SAMPLE-B")), "a design of your own is made of it")
    ]


def test_an_own_rule_for_a_sample_design_keeps_all(manager):
    take_samples()
    design = Design.objects.get(name="Clamshell (sample)")
    DesignRule.objects.create(campaign=make_campaign(make_object()), position=1, design=design)

    assert [each.words for each in in_the_way()] == ["Clamshell (sample)"]


def test_without_samples_there_is_nothing_to_remove(manager):
    answer = manager.post(reverse("housing:first-run-remove"))

    assert answer.status_code == 409
    assert "No sample is here" in answer.content.decode()


# ---- Home ------------------------------------------------------------------------------------------------


def test_home_leads_to_the_steps_until_all_are_done(manager, take_all):
    assert "Four steps to your first plan" in manager.get("/").content.decode()

    take_all()

    assert "Four steps to your first plan" not in manager.get("/").content.decode()
