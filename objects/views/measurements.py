"""Measurements of objects: their photos, deciding between them, and the rules they are compared by."""

from django.contrib import messages
from django.http import FileResponse, Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST, require_safe

from objects.core.words import say
from objects.forms.survey import MeasuringRulesForm
from objects.models import SurveyEntry
from objects.queries.survey import measuring_rules
from objects.readers import reader_of
from objects.roles import SURVEYOR, role_required
from objects.services.measurements import DecisionRefused, decide


@require_safe
def photo(request: HttpRequest, pk: int) -> FileResponse:
    """The photo taken with an entry, for those who are signed in."""
    entry = get_object_or_404(SurveyEntry.objects.exclude(photo=""), pk=pk)
    if not entry.photo.storage.exists(entry.photo.name):
        raise Http404(say("The photo of this entry is no longer there."))
    answer = FileResponse(entry.photo.open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=300"
    return answer


@require_POST
@role_required(SURVEYOR)
def decision(request: HttpRequest, pk: int) -> HttpResponse:
    """Decide on a measurement, then show the object again."""
    entry = get_object_or_404(SurveyEntry.objects.select_related("object"), pk=pk)
    try:
        decide(entry=entry, decision=request.POST.get("decision", ""), by=request.user)
    except DecisionRefused as refused:
        messages.error(request, str(refused))
    else:
        messages.success(request, say("The decision on {number} is kept.", number=entry.object.number))
    return redirect("housing:object-detail", pk=entry.object_id)


@role_required()
def rules(request: HttpRequest) -> HttpResponse:
    """How far measurements may differ, set by a manager."""
    form = MeasuringRulesForm(request.POST or None, instance=measuring_rules(), unit=reader_of(request).unit)
    if request.method == "POST" and form.is_valid():
        form.save()
        messages.success(request, say("From now on measurements are compared by these rules."))
        return redirect("objects:survey-rules")
    return render(request, "objects/survey_rules.html", {"form": form})
