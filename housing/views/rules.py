"""The rules of a campaign: list with counts, editing, dry run, conflicts, and choosing over them."""

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from housing.core.choosing import explain
from housing.forms.rules import OverruleForm, RuleForm
from housing.intake.rules import rules_csv, shipped_rules
from housing.models import Campaign, DesignRule
from housing.queries.choosing import contents_with, facts_of
from housing.queries.conflicts import conflict_groups, housings_of_group
from housing.services.campaigns import choose_design
from housing.services.choosing import DesignChoice
from housing.services.dry_run import dry_run
from housing.services.rule_counts import rule_reports, try_rule
from housing.services.rules import add_rules, copy_rule, delete_rule, move_rule, save_rule
from housing.views import questions
from objects.models import CatalogueObject
from objects.readers import reader_of
from objects.roles import MAKER, role_required
from objects.views.asking import asks_first

PLACES = {"up": -1, "down": 1}
PER_PAGE = 50


@require_safe
def rule_list(request: HttpRequest, pk: int) -> HttpResponse:
    """The rules in their order, each with how many objects it takes and what to look at again."""
    campaign = get_object_or_404(Campaign, pk=pk)
    reports = rule_reports(campaign)
    return render(request, "housing/rule_list.html", {"campaign": campaign, "reports": reports})


# ---- Editing ---------------------------------------------------------------------------------------------


@role_required()
def rule_new(request: HttpRequest, pk: int) -> HttpResponse:
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(request, DesignRule(campaign=campaign), is_try=False)


@role_required()
def rule_edit(request: HttpRequest, pk: int) -> HttpResponse:
    return _edit(request, _rule(pk), is_try=False)


@require_POST
@role_required()
def rule_try_new(request: HttpRequest, pk: int) -> HttpResponse:
    """What a new rule would come to as it is typed; nothing is stored."""
    campaign = get_object_or_404(Campaign, pk=pk)
    return _edit(request, DesignRule(campaign=campaign), is_try=True)


@require_POST
@role_required()
def rule_try(request: HttpRequest, pk: int) -> HttpResponse:
    """What a rule would come to with what is typed; nothing is stored."""
    return _edit(request, _rule(pk), is_try=True)


def _edit(request: HttpRequest, rule: DesignRule, is_try: bool) -> HttpResponse:
    heading = (
        _("Edit rule {position} of {campaign}").format(position=rule.position, campaign=rule.campaign)
        if rule.pk
        else _("New rule of {campaign}").format(campaign=rule.campaign)
    )
    form = RuleForm(request.POST or None, instance=rule, unit=reader_of(request).unit)
    is_sound = form.is_valid() if request.method == "POST" else bool(rule.pk)
    if request.method == "POST" and is_sound and not is_try:
        save_rule(rule=form.instance)
        messages.success(
            request,
            _("Rule {position} is saved. Plan the campaign again to use it.").format(position=rule.position),
        )
        return _to_rules(rule)
    part = "#trial" if request.htmx and is_try else ""
    return render(
        request,
        f"housing/rule_edit.html{part}",
        {
            "form": form,
            "heading": heading,
            "campaign": rule.campaign,
            "try_url": _try_url(rule),
            "trial": try_rule(form.instance) if is_sound else None,
            "is_part": bool(part),
        },
    )


def _try_url(rule: DesignRule) -> str:
    if rule.pk:
        return reverse("housing:rule-try", args=[rule.pk])
    return reverse("housing:rule-try-new", args=[rule.campaign_id])


@require_POST
@role_required()
def rule_copy(request: HttpRequest, pk: int) -> HttpResponse:
    copied = copy_rule(rule=_rule(pk))
    messages.success(request, _("The copy stands right below the rule. Change what differs."))
    return redirect("housing:rule-edit", pk=copied.pk)


@require_POST
@role_required()
@asks_first(questions.rule)
def rule_delete(request: HttpRequest, pk: int) -> HttpResponse:
    rule = _rule(pk)
    delete_rule(rule=rule)
    messages.success(request, _("The rule is deleted. Plan the campaign again to leave it out."))
    return _to_rules(rule)


@require_POST
@role_required()
def rule_move(request: HttpRequest, pk: int) -> HttpResponse:
    """Move a rule one place up or down."""
    rule = _rule(pk)
    places = PLACES.get(request.POST.get("direction", ""))
    if places is None:
        return HttpResponseBadRequest(_("A rule moves up or down. Go back and use the buttons there."))
    move_rule(rule=rule, places=places)
    return redirect(f"{reverse('housing:rule-list', args=[rule.campaign_id])}#rule-{rule.pk}")


@require_POST
@role_required()
def rule_add_shipped(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the rules that come with the program below those of the campaign."""
    campaign = get_object_or_404(Campaign, pk=pk)
    number = add_rules(campaign=campaign, rules=shipped_rules())
    messages.success(
        request,
        _(
            "{number} rules are put in. They name forms, not designs: where the museum has no design "
            "of a form, planning says so. Have a conservator look at them."
        ).format(number=number),
    )
    return redirect("housing:rule-list", pk=campaign.pk)


@require_safe
def rule_download(request: HttpRequest, pk: int) -> HttpResponse:
    """The rules as a list that can be taken in again, here or elsewhere."""
    campaign = get_object_or_404(Campaign, pk=pk)
    return HttpResponse(
        rules_csv(campaign),
        content_type="text/csv; charset=utf-8",
        headers={"Content-Disposition": f'attachment; filename="rules-{campaign.pk}.csv"'},
    )


def _rule(pk: int) -> DesignRule:
    return get_object_or_404(DesignRule.objects.select_related("campaign"), pk=pk)


def _to_rules(rule: DesignRule) -> HttpResponse:
    return redirect("housing:rule-list", pk=rule.campaign_id)


# ---- What the rules come to ------------------------------------------------------------------------------


@require_safe
def rule_dry_run(request: HttpRequest, pk: int) -> HttpResponse:
    """What planning again would change; nothing is stored."""
    campaign = get_object_or_404(Campaign, pk=pk)
    found = dry_run(campaign)
    page = Paginator(found.changes, PER_PAGE).get_page(request.GET.get("page"))
    context = {"campaign": campaign, "found": found, "page": page}
    return render(request, "housing/rule_dry_run.html", context)


@require_safe
def rule_conflicts(request: HttpRequest, pk: int) -> HttpResponse:
    """Where rules contradict each other, or a design what they advise, box by box."""
    campaign, key = get_object_or_404(Campaign, pk=pk), request.GET.get("of", "")
    conflicts = conflict_groups(campaign)
    chosen = next((group for group in conflicts if group.key == key), None)
    housings = housings_of_group(campaign, chosen.key if chosen else "")
    page = Paginator(housings, PER_PAGE).get_page(request.GET.get("page"))
    context = {"campaign": campaign, "conflicts": conflicts, "chosen": chosen, "page": page}
    return render(request, "housing/rule_conflicts.html", context)


@require_safe
def object_rules(request: HttpRequest, pk: int) -> HttpResponse:
    """How each rule of the object's campaigns applies to it, condition by condition."""
    thing = get_object_or_404(CatalogueObject, pk=pk)
    facts = facts_of(contents_with(thing))
    campaigns = [
        (campaign, [explain(rule, facts) for rule in DesignChoice.of(campaign).rules])
        for campaign in thing.campaigns.all()
    ]
    context = {"object": thing, "facts": facts, "campaigns": campaigns}
    return render(request, "housing/object_rules.html", context)


@require_POST
@role_required(MAKER)
def object_overrule(request: HttpRequest, pk: int) -> HttpResponse:
    """Choose a design by hand for an object and what is housed with it, or give them back to the rules."""
    thing = get_object_or_404(CatalogueObject, pk=pk)
    form = OverruleForm(request.POST)
    if not form.is_valid():
        messages.error(request, _("Choose one of the designs of the list, and an open campaign. Try again."))
        return redirect("housing:object-detail", pk=pk)
    campaign, design = form.cleaned_data["campaign"], form.cleaned_data["design"]
    choose_design(campaign=campaign, objects=contents_with(thing), design=design)
    words = (
        _("will get the design “{design}”, whatever the rules say,").format(design=design)
        if design
        else _("will follow the rules")
    )
    messages.success(
        request,
        _("{thing_number} {words} when “{campaign}” is planned next.").format(
            thing_number=thing.number, words=words, campaign=campaign
        ),
    )
    return redirect("housing:object-detail", pk=pk)
