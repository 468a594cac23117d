"""The questions of a record, in the order of the job. Each may be skipped: what was not measured stays open."""

from __future__ import annotations

from calcbook.job.questions import Question
from calcbook.records.schema import WORKS, RecordFile


def _asked(place: str, words: str, why: str) -> Question:
    return Question(place, words, "", why, open="skip", model=RecordFile)


QUESTIONS = (
    _asked("record.date", "Day of the pour?", "Records are put in order by it."),
    _asked("record.lost_days", "Planned pour days lost to the weather before it?", "0 is an answer too. The odds on a price "
           "rest on it."),
    _asked("concrete.delivered", "Concrete delivered, all tickets?", "With what was left over it tells your waste."),
    _asked("concrete.left_over", "Concrete left over?", "On the truck or dumped clean, as near as you can tell. What stays in a "
           "pump and its line is not counted here. 0 is an answer too."),
    _asked("base.depths", "Depths before the pour, from the top of the forms down to the stone?", "Some ten places, with commas "
           "between: 5 in, 5 1/8 in, 4 7/8 in. They tell how deep your bases really come out, and without them no waste is told."),
    _asked("set.foot_print", "First footprint not deeper than 1/4 in., at what time?", "It tells how your mix sets against the "
           "published bands."),
    _asked("set.machine_on", "Machine on, at what time?", "It stands in where no footprint was noted."),
    _asked("weather.air", "Air while finishing, as measured?", "Only where it differed from the forecast."),
    _asked("money.spent", "What did the job cost in all, without overhead?", "Concrete, hours, machines, all bills. It shows "
           "whether the price held."),
    _asked("cracks.seen", "Cracks outside of joints, at 28 days?", "0 is an answer too; later is fine."),
    _asked("record.wrong", "What went wrong, in words?", "One line for whoever quotes the next one."),
)  # fmt: skip
LINES = (  # what is asked of each line of the quote: (key, words, why)
    ("hours", "Hours of each line of work, as you paid them? Enter skips a line.",
     "What people were paid for it, all persons together. It tells your own rates."),
    ("cost", "What each other line cost, by the bill? Enter skips a line.",
     "By the bill, before tax. It shows which lines of your quotes come out dearer than you say."),
)  # fmt: skip
LISTS = {  # list of the record -> (words, keys in the order they are typed, why)
    "trucks": ("A truck: load, arrived, empty, unloading began, temperature?",
               ("load", "arrived", "empty", "began", "temperature"),
               "Such as 9 yd3, 07:30, 08:05, by the ticket; the time unloading began and the concrete's temperature may follow. "
               "Trucks tell the time between them, how long one unloads and how long it waits."),
    "work": ("A task: which, from, to, people, machines?", ("task", "start", "end", "people", "machines"),
             f"Such as placing, 07:30, 10:15, 6. Tasks: {', '.join(WORKS)}."),
    "strengths": ("A test of strength: age, strength, how, where kept?", ("age", "strength", "by", "cured"),
                  "Such as 72 h, 2100 psi, cylinder (or core, hammer), with the slab (or in the laboratory)."),
    "logs": ("A logger's file: name, where?", ("file", "place"),
             "Such as top.csv, top (or middle, bottom, air, soil); the file lies beside the job."),
}  # fmt: skip
