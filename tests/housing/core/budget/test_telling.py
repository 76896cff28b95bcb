"""Budgets in the reader's language."""

from decimal import Decimal

import pytest

from housing.core.budget.lines import Budget, BudgetLine, Problem, Section, Target
from housing.core.budget.telling import told_budget
from objects.core import retelling, words

HELD = {
    "sheet": "plancha",
    "sheets": "planchas",
    "Sheets": "Planchas",
    "cutting": "cortar",
    "packs of {amount}": "paquetes de {amount}",
    "{told}, in packs of {count}": "{told}, en paquetes de {count}",
    "{each} on each of {count:,} boxes": "{each} en cada una de {count} cajas",
    "{name} has no price": "{name} no tiene precio",
    "{amount} count as nothing, so the sum is too low": "{amount} no cuentan, así que la suma es baja",
    "Enter its price": "Introduzca su precio",
    "{count} sheets": "{count} planchas",
    "Whoever is still to be found": "Quien aún falte",
}


@pytest.fixture(autouse=True)
def spanish(monkeypatch):
    """A small catalogue instead of the whole one, and Spanish spoken."""
    monkeypatch.setattr(words, "messages", lambda language: HELD)
    monkeypatch.setattr(
        "housing.core.budget.telling.say",
        lambda message, **values: HELD.get(message, message).format(**values),
    )
    for function in (retelling._messages, retelling._retold):
        function.cache_clear()
    with words.speaking("es"):
        yield
    for function in (retelling._messages, retelling._retold):
        function.cache_clear()


def line(**given):
    usual = {
        "key": "supply:1", "section": Section.SUPPLIES, "what": "Sheets", "quantity": Decimal(2), "unit": "h",
        "price": Decimal(1), "computed_from": "1 on each of 12 boxes", "target": Target("supply", "1"),
    }  # fmt: skip
    return BudgetLine(**usual | given)


def told(one: BudgetLine) -> BudgetLine:
    return told_budget(Budget("EUR", (one,))).lines[0]


def test_what_a_line_was_computed_from_is_told_message_by_message():
    found = told(line(computed_from="1 on each of 1,200 boxes, in packs of 50"))

    assert found.computed_from == "1 en cada una de 1,200 cajas, en paquetes de 50"


def test_a_name_of_goods_stays_even_where_it_is_a_word_of_ours():
    assert told(line()).what == "Sheets"


@pytest.mark.parametrize(
    ("what", "said"),
    [
        ("Sheets: cutting", "Sheets: cortar"),
        ("Whoever is still to be found: cutting", "Quien aún falte: cortar"),
    ],
)
def test_a_line_of_work_names_its_step_and_keeps_the_name_of_the_person(what, said):
    found = told(line(section=Section.LABOUR, what=what, target=Target("person", "3"), step="cut"))

    assert found.what == said


@pytest.mark.parametrize(
    ("unit", "said"),
    [("sheets", "planchas"), ("packs of 25 sheets", "paquetes de 25 planchas"), ("kg", "kg")],
)
def test_units_that_are_words_are_told_and_signs_stay(unit, said):
    assert told(line(unit=unit)).unit == said


def test_problems_are_told_with_the_names_in_them():
    problem = Problem(
        "Sheets has no price",
        "3 sheets count as nothing, so the sum is too low",
        "Enter its price",
        Target("x"),
    )

    (found,) = told_budget(Budget("EUR", (), (problem,))).problems

    assert (found.what, found.do) == ("Sheets no tiene precio", "Introduzca su precio")
    assert found.affects == "3 planchas no cuentan, así que la suma es baja"


def test_figures_and_keys_stay():
    one = line()

    found = told(one)

    assert (found.key, found.amount, found.target) == (one.key, one.amount, one.target)
