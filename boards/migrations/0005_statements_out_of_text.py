"""Make statements of the standards that boards name in their free text; what is not recognised stays there."""

from django.db import migrations, models

from boards.core.standards import standard_of
from boards.core.statements import statements_in

NOTE = "From the board's earlier text"


def text_to_statements(apps, schema_editor):
    Board, BoardStatement = (apps.get_model("boards", name) for name in ("Board", "BoardStatement"))
    for board in Board.objects.exclude(standards=""):
        found, rest = statements_in(board.standards)
        if not found:
            continue
        BoardStatement.objects.bulk_create(
            BoardStatement(board=board, standard=key, stated_by=by, note=NOTE) for key, by in found
        )
        Board.objects.filter(pk=board.pk).update(standards=rest)


def statements_to_text(apps, schema_editor):
    """Write those statements back; later ones have no place in the text and stay in their table."""
    Board, BoardStatement = (apps.get_model("boards", name) for name in ("Board", "BoardStatement"))
    for board in Board.objects.filter(statements__note=NOTE).distinct():
        taken = BoardStatement.objects.filter(board=board, note=NOTE).order_by("pk")
        said = [f"{standard_of(one.standard).short_name}, stated by {one.stated_by}" for one in taken]
        Board.objects.filter(pk=board.pk).update(
            standards="; ".join([*said, *([board.standards] if board.standards else [])])[:300]
        )
        taken.delete()


class Migration(migrations.Migration):

    dependencies = [("boards", "0004_statements")]

    operations = [
        migrations.RunPython(text_to_statements, statements_to_text),
        migrations.AlterField(
            model_name="board",
            name="standards",
            field=models.CharField(
                blank=True,
                help_text="What is said of it besides the statements that it meets a standard.",
                max_length=300,
                verbose_name="anything else stated",
            ),
        ),
    ]
