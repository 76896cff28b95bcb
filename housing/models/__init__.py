"""The plan and the work: designs, campaigns, housings, cutting plans, budgets, people, tasks, long jobs."""

from housing.models.bench import BenchEntry, FitCheck, Hold, HousedPhoto, WorkSpell
from housing.models.blanks import Blank
from housing.models.budgets import Budget, BudgetTerms, Phase
from housing.models.campaigns import Campaign, CampaignObject, DesignRule
from housing.models.designs import Design
from housing.models.housings import HousedObject, Housing, HousingEvent
from housing.models.jobs import Job
from housing.models.label_sheets import LabelSheet
from housing.models.people import Absence, Grade, Person
from housing.models.plan_records import PlanRecord
from housing.models.plans import BoardPlan, CuttingPlan, PlannedBlank, PlannedSheet
from housing.models.standard_times import StandardTime
from housing.models.tasks import Task
from housing.models.ways import ReadyMadeBox, Scenario, Selection, SizeFamily

__all__ = [
    "Absence",
    "BenchEntry",
    "Blank",
    "BoardPlan",
    "Budget",
    "BudgetTerms",
    "Campaign",
    "CampaignObject",
    "CuttingPlan",
    "Design",
    "DesignRule",
    "FitCheck",
    "Grade",
    "Hold",
    "HousedPhoto",
    "HousedObject",
    "Housing",
    "HousingEvent",
    "Job",
    "LabelSheet",
    "Person",
    "Phase",
    "PlanRecord",
    "PlannedBlank",
    "PlannedSheet",
    "ReadyMadeBox",
    "Scenario",
    "Selection",
    "SizeFamily",
    "StandardTime",
    "Task",
    "WorkSpell",
]
