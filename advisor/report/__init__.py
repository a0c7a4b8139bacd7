"""The words on the screen: results and knowledge as lines of text. Decides nothing."""

from advisor.report.brief import brief_lines
from advisor.report.checks import knowledge_lines, problem_lines, separation_lines
from advisor.report.entry import called, entry_lines, known_keys
from advisor.report.lines import Line, Page, Style
from advisor.report.lists import list_lines, lists_json
from advisor.report.plan import sheet_lines
from advisor.report.screen import screen_lines
from advisor.report.sums import (
    question_lines,
    subject_lines,
    subjects_json,
    subjects_lines,
    sum_lines,
)

__all__ = [
    "Line",
    "Page",
    "Style",
    "brief_lines",
    "called",
    "entry_lines",
    "knowledge_lines",
    "known_keys",
    "list_lines",
    "lists_json",
    "problem_lines",
    "question_lines",
    "screen_lines",
    "separation_lines",
    "sheet_lines",
    "subject_lines",
    "subjects_json",
    "subjects_lines",
    "sum_lines",
]
