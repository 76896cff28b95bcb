"""How forms are written: every field has its label, its help and its errors tied to it for screen readers."""

from xml.etree import ElementTree

from django import forms


class SizeForm(forms.Form):
    height = forms.CharField(help_text="For example 10 3/4.")
    note = forms.CharField(required=False)
    marks = forms.MultipleChoiceField(
        choices=[("top", "This side up")],
        widget=forms.CheckboxSelectMultiple,
        help_text="Printed on the label.",
        required=False,
    )
    is_fragile = forms.BooleanField(required=False, help_text="Lift with two hands.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["height"].unit = "in"


def written(data: dict | None = None) -> ElementTree.Element:
    """The form as a tree; its inputs and attributes without a value are closed the way XML wants it."""
    form = SizeForm(data, use_required_attribute=False)
    html = str(form)
    for bare in (" checked", " disabled"):
        html = html.replace(bare + " ", f'{bare}="" ').replace(bare + ">", f'{bare}="">')
    parts = html.split("<input")
    closed = [parts[0], *(part.replace(">", "/>", 1) for part in parts[1:])]
    return ElementTree.fromstring(f"<form xmlns:x='x'>{'<input'.join(closed)}</form>")


def by_id(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {element.get("id"): element for element in root.iter() if element.get("id")}


def said(root: ElementTree.Element, name: str) -> list[str]:
    """The words a screen reader adds to a field: those its aria-describedby names, in order."""
    described = by_id(root)[name].get("aria-describedby", "").split()
    return [" ".join("".join(by_id(root)[part].itertext()).split()) for part in described]


def test_every_input_has_a_label():
    root = written()

    labels = {label.get("for") for label in root.iter("label")}

    assert labels >= {"id_height", "id_note", "id_marks_0", "id_is_fragile"}


def test_help_is_tied_to_its_field():
    root = written()

    assert said(root, "id_height") == ["For example 10 3/4."]
    assert said(root, "id_is_fragile") == ["Lift with two hands."]
    assert said(root, "id_note") == []


def test_help_of_a_group_is_tied_to_the_group():
    group = written().find(".//fieldset")

    assert group.get("aria-describedby") == "id_marks_helptext"
    assert group.find("legend").text.strip() == "Marks"
    assert by_id(group)["id_marks_helptext"].text == "Printed on the label."


def test_an_error_is_tied_to_its_field_and_linked_from_the_top():
    root = written({"height": ""})

    assert said(root, "id_height") == ["For example 10 3/4.", "This field is required."]
    assert by_id(root)["id_height"].get("aria-invalid") == "true"
    (summary,) = [part for part in root.iter("div") if part.get("role") == "alert"]
    assert [link.get("href") for link in summary.iter("a")] == ["#id_height"]
    assert "One thing needs to be put right:" in "".join(summary.itertext())


def test_the_unit_is_shown_beside_the_field_and_said_in_its_label():
    root = written()

    (label,) = [label for label in root.iter("label") if label.get("for") == "id_height"]
    assert "".join(label.itertext()).strip() == "Height, in in"
    assert [span.text for span in root.iter("span") if span.get("class") == "unit"] == ["in"]


def test_fields_that_may_stay_empty_say_so():
    root = written()

    marked = [
        label.get("for") for label in root.iter("label") if label.find("span[@class='optional']") is not None
    ]

    assert marked == ["id_note"]


def test_the_unit_stands_beside_an_empty_field_only():
    units = [
        [e.text for e in written(data).iter("span") if e.get("class") == "unit"]
        for data in (None, {"height": "6 3/4 in"})
    ]

    assert units == [["in"], []]
