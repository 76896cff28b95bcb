"""The address of every page, with records of the demo in it, and of what is no page with the reason."""

# In braces: a table, of which the first record is shown, and what must hold of that record.
PAGES = """
/
/accounts/password/
/accounts/password/done/
/bench/
/bench/boxes/{housing_housing: status = 'housed'}/
/bench/boxes/{housing_housing: status = 'planned' AND campaign_id = 1}/
/bench/sheets/{housing_plannedsheet: cut_at IS NULL}/
/boards/
/boards/new/
/boards/offcuts/{boards_offcut}/
/boards/sheets/{boards_sheetsize}/edit/
/boards/statements/{boards_boardstatement}/edit/
/boards/suppliers/new/
/boards/suppliers/{boards_supplier}/edit/
/boards/supplies/
/boards/supplies/count/
/boards/supplies/new/
/boards/supplies/{boards_supply}/
/boards/supplies/{boards_supply}/edit/
/boards/{boards_board}/
/boards/{boards_board}/count/
/boards/{boards_board}/edit/
/boards/{boards_board}/sheets/new/
/boards/{boards_board}/statements/new/
/boxes/explain/
/campaigns/
/campaigns/1/
/campaigns/1/budget/
/campaigns/1/budget/learned/
/campaigns/1/budget/ranges/
/campaigns/1/budget/terms/
/campaigns/2/budget/{housing_budget: frozen_at IS NOT NULL}/
/campaigns/1/edit/
/campaigns/1/forecast/
/campaigns/1/phases/
/campaigns/1/phases/new/
/campaigns/1/plan/
/campaigns/1/plan/compare/
/campaigns/1/progress/
/campaigns/1/purchases/
/campaigns/1/rules/
/campaigns/1/rules/conflicts/
/campaigns/1/rules/dry-run/
/campaigns/1/rules/new/
/campaigns/1/scenarios/
/campaigns/1/scenarios/new/
/campaigns/1/sizes/
/campaigns/1/sizes/new/
/campaigns/1/tasks/
/campaigns/1/tasks/?by=person
/campaigns/1/weights/
/campaigns/1/within/
/campaigns/1/within/new/
/campaigns/2/
/campaigns/2/forecast/
/campaigns/2/plan/
/campaigns/2/progress/
/campaigns/new/
/catalogue/locations/
/catalogue/locations/new/
/catalogue/locations/{objects_location}/edit/
/catalogue/measuring/
/catalogue/new/
/catalogue/preferences/
/catalogue/survey/
/catalogue/survey/{objects_location: path LIKE '%Shelf 1'}/
/catalogue/{objects_catalogueobject}/edit/
/designs/
/designs/new/
/designs/{housing_design}/
/designs/{housing_design}/edit/
/designs/{housing_design}/try/
/export/
/figures/
/first-steps/
/fit/
/glossary/
/guide/
/guide/plan/
/import/
/import/{objects_listimport: state = 'saved'}/
/label-sheets/
/label-sheets/new/
/label-sheets/{housing_labelsheet}/delete/
/label-sheets/{housing_labelsheet}/edit/
/label-sheets/{housing_labelsheet}/test/
/machine/boxes/{housing_housing: status = 'planned' AND campaign_id = 1}/
/machine/designs/{housing_design}/?height=10&width=8&depth=6
/machine/sheets/?campaign=2
/need/
/objects/
/objects/{objects_catalogueobject}/
/objects/{objects_catalogueobject}/rules/
/offcuts/labels/
/people/
/people/away/
/people/grades/
/people/grades/new/
/people/grades/{housing_grade}/edit/
/people/new/
/people/{housing_person}/away/new/
/people/{housing_person}/edit/
/prints/
/prints/batch-cover/?campaign=2
/prints/box-lists/?campaign=2
/prints/cut-sheets/?object=25
/prints/earlier/
/prints/labels/?campaign=2
/prints/pick-list/?campaign=2
/prints/sheet-layouts/?campaign=2
/progress/places/
/q/
/q/{code of housing_housing: code IS NOT NULL}/
/questions/
/ready-made/
/ready-made/new/
/ready-made/{housing_readymadebox}/edit/
/report/
/rules/{housing_designrule}/edit/
/scenarios/{housing_scenario}/edit/
/search/?q=box
/standards/
/standards/new/
/stock/
/stock/sheets/{housing_plannedsheet: cut_at IS NOT NULL}/
/work/
""".strip().splitlines()

# Every print; "cut sheets of each form" and the like are made of the first box of each.
PRINTS = """
/campaigns/1/budget/{housing_budget: campaign_id = 1}.pdf
/campaigns/1/purchases.pdf
/offcuts/{boards_offcut}/label.pdf
/prints/batch-cover/?campaign=2&format=pdf
/prints/box-lists/?campaign=2&format=pdf
/prints/pick-list/?campaign=2&format=pdf
/prints/sheet-layouts/?campaign=2&format=pdf
/report.pdf
""".strip().splitlines()
