"""What `manage.py check`, and every start, looks at besides Django's own checks."""

from django.core.checks import CheckMessage, Warning, register

from housing.pdf import pdf_problem


@register("printing")
def check_pdf(**kwargs) -> list[CheckMessage]:
    """Warns when PDF files cannot be made on this computer."""
    if (problem := pdf_problem()) is None:
        return []
    return [Warning(problem, id="housing.W001")]
