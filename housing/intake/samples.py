"""Taking a sample list that comes with the program: it goes through the same import as a user's."""

from housing.intake.imports import stage_list
from housing.intake.saving import save_list
from housing.queries.samples import KINDS, sample_file, taken_samples
from housing.services.samples import SamplesRefused
from objects.core.words import say
from objects.models import ListImport


def take_sample(*, kind: str, by=None) -> ListImport:
    """Save the sample list of a kind; designs name boards, so the sample boards are taken with them.

    Raises SamplesRefused where it is here already, IntakeRefused where it cannot be saved.
    """
    taken = taken_samples()
    if kind in taken:
        raise SamplesRefused(say("This sample is here already. Nothing was taken in a second time."))
    if kind == "designs" and "boards" not in taken:
        _take("boards", by)
    return _take(kind, by)


def take_samples(*, by=None) -> list[ListImport]:
    """Save all sample lists that are not here yet."""
    taken = taken_samples()
    return [_take(kind, by) for kind in KINDS if kind not in taken]


def _take(kind: str, by) -> ListImport:
    path = sample_file(kind)
    listed = stage_list(kind=kind, file_name=f"sample-{path.name}", data=path.read_bytes(), by=by)
    save_list(listed=listed, by=by)
    return listed
