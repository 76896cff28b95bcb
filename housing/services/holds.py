"""Questions that a box waits for: asked at the bench or at the desk, answered by whoever knows."""

from typing import Any

from housing.models import BenchEntry, Hold, Housing
from housing.services.bench_entries import Ask, BenchRefused, Outcome, handles, undoes
from objects.core.words import noted, say

What = BenchEntry.What
LONGEST = 400
TAKEN_BACK = noted("Taken back by whoever asked")


@handles(What.HOLD)
def ask_question(ask: Ask) -> Outcome:
    """The work on a box rests until the question is answered."""
    if ask.housing is None:
        raise BenchRefused(say("Say which box the question is about. Open its page and ask there."))
    reason = str(ask.detail.get("reason") or Hold.Reason.CONSERVATOR)
    if reason not in Hold.Reason.values:
        raise BenchRefused(say("Say what the box waits for: choose one of the reasons."))
    question = str(ask.detail.get("question", "")).strip()
    if not question:
        raise BenchRefused(say("Write the question, so that somebody can answer it."))
    housing = Housing.objects.select_for_update(of=("self",)).get(pk=ask.housing.pk)
    if housing.status in (Housing.Status.DROPPED, Housing.Status.HOUSED):
        raise BenchRefused(
            say(
                "{housing} is “{status}”; nothing of it waits any more.",
                housing=housing,
                status=housing.get_status_display(),
            )
        )
    if there := housing.holds.filter(reason=reason, answered_at=None).first():
        raise BenchRefused(
            say(
                "{housing} waits {reason} already: “{question}” Add to that question when it is answered.",
                housing=housing,
                reason=there.get_reason_display().lower(),
                question=there.question,
            )
        )
    hold = Hold.objects.create(
        housing=housing, reason=reason, question=question[:LONGEST], asked_at=ask.at, asked_by=ask.by
    )
    return Outcome(
        say("{housing} waits {reason}.", housing=housing, reason=hold.get_reason_display().lower()),
        {"hold": hold.pk},
    )


@handles(What.ANSWER)
def answer_question(ask: Ask) -> Outcome:
    """The question is answered and the work can go on."""
    text = str(ask.detail.get("answer", "")).strip()
    if not text:
        raise BenchRefused(say("Write the answer, so that whoever works on the box can follow it."))
    key = str(ask.detail.get("hold", ""))
    hold = (
        Hold.objects.select_for_update(of=("self",)).select_related("housing").filter(pk=key).first()
        if key.isdecimal()
        else None
    )
    if hold is None:
        raise BenchRefused(say("That question is not there any more. Reload the page."))
    if hold.answered_at:
        raise BenchRefused(say("It was answered already: “{answer}”", answer=hold.answer))
    hold.answer, hold.answered_at, hold.answered_by = text[:LONGEST], ask.at, ask.by
    hold.save(update_fields=["answer", "answered_at", "answered_by"])
    return Outcome(say("The work on {housing} can go on.", housing=hold.housing), {"hold": hold.pk})


@undoes(What.HOLD)
def undo_question(entry: BenchEntry, by: Any) -> str:
    """The question is taken back; it stays in the trail."""
    hold = _hold(entry)
    if hold.answered_at:
        raise BenchRefused(say("It was answered since: “{answer}”", answer=hold.answer))
    hold.answer, hold.answered_at, hold.answered_by = say(TAKEN_BACK), entry.received_at, by
    hold.save(update_fields=["answer", "answered_at", "answered_by"])
    return say("The question about {housing} is taken back.", housing=hold.housing)


@undoes(What.ANSWER)
def undo_answer(entry: BenchEntry, by: Any) -> str:
    """The question is open again."""
    hold = _hold(entry)
    if hold.housing.holds.filter(reason=hold.reason, answered_at=None).exists():
        raise BenchRefused(
            say("{housing} waits for another answer by now. Answer that one instead.", housing=hold.housing)
        )
    hold.answer, hold.answered_at, hold.answered_by = "", None, None
    hold.save(update_fields=["answer", "answered_at", "answered_by"])
    return say("The question about {housing} is open again.", housing=hold.housing)


def _hold(entry: BenchEntry) -> Hold:
    return (
        Hold.objects.select_for_update(of=("self",))
        .select_related("housing")
        .get(pk=entry.detail["memory"]["hold"])
    )
