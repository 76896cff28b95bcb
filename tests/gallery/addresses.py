"""The address of every page, with records of the demo in it, and of what is no page with the reason."""

# In braces: a table, of which the first record is shown, and what must hold of that record.
PAGES = """
/
/accounts/password/
/accounts/password/done/
/bench/
/bench/boxes/{housing_housing: status = 'planned' AND campaign_id = 1}/
/bench/boxes/{housing_housing: status = 'housed'}/
/bench/sheets/{housing_plannedsheet: cut_at IS NULL}/
/boards/
/boards/{boards_board}/
/boards/{boards_board}/edit/
/boards/{boards_board}/sheets/new/
/boards/{boards_board}/statements/new/
/boards/new/
/boards/offcuts/{boards_offcut}/
/boards/sheets/{boards_sheetsize}/edit/
/boards/statements/{boards_boardstatement}/edit/
/boards/suppliers/new/
/boards/supplies/
/boards/supplies/{boards_supply}/
/boards/supplies/{boards_supply}/edit/
/boards/supplies/count/
/boards/supplies/new/
/boxes/explain/
/campaigns/
/campaigns/1/
/campaigns/1/budget/
/campaigns/1/budget/learned/
/campaigns/1/budget/ranges/
/campaigns/1/budget/terms/
/campaigns/1/edit/
/campaigns/1/forecast/
/campaigns/1/phases/
/campaigns/1/phases/new/
/campaigns/1/plan/
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
/catalogue/{objects_catalogueobject}/edit/
/catalogue/locations/
/catalogue/locations/{objects_location}/edit/
/catalogue/locations/new/
/catalogue/measuring/
/catalogue/new/
/catalogue/preferences/
/catalogue/survey/
/catalogue/survey/{objects_location: path LIKE '%Shelf 1'}/
/designs/
/designs/{housing_design}/
/designs/{housing_design}/edit/
/designs/{housing_design}/try/
/designs/new/
/export/
/fit/
/import/
/import/{objects_objectlist}/
/need/
/objects/
/objects/{objects_catalogueobject}/
/objects/{objects_catalogueobject}/rules/
/people/
/people/{housing_person}/away/new/
/people/{housing_person}/edit/
/people/away/
/people/grades/
/people/grades/{housing_grade}/edit/
/people/grades/new/
/people/new/
/prints/
/progress/places/
/q/
/questions/
/ready-made/
/ready-made/new/
/report/
/rules/{housing_designrule}/edit/
/standards/
/standards/new/
/stock/
/stock/sheets/{housing_plannedsheet: cut_at IS NOT NULL}/
/work/
""".strip().splitlines()

# Every print; "cut sheets of each form" and the like are made of the first box of each.
PRINTS = """
/campaigns/1/budget/{housing_budget}.pdf
/campaigns/1/purchases.pdf
/offcuts/{boards_offcut}/label.pdf
/report.pdf
""".strip().splitlines()
