"""Photos of objects in their boxes."""

from django.http import FileResponse, Http404, HttpRequest
from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from housing.models import HousedPhoto


@require_safe
def housed_photo(request: HttpRequest, pk: int) -> FileResponse:
    """One photo, for those who are signed in."""
    kept = get_object_or_404(HousedPhoto, pk=pk)
    if not kept.photo.storage.exists(kept.photo.name):
        raise Http404(_("This photo is no longer there."))
    answer = FileResponse(kept.photo.open("rb"), content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=300"
    return answer
