"""Everything the knowledge holds, as lists: for machines, and for reading."""

import json
from typing import Any, Final, get_args

from advisor.knowledge import Knowledge, choice_words
from advisor.report.labels import group_label, water_label
from advisor.report.lines import Line, Page, heading
from advisor.report.plain import plain
from advisor.terms import Attribute, Of
from advisor.water import FORMULAS, SAME

FORMAT: Final = 1


def lists_json(knowledge: Knowledge) -> str:
    """One JSON document. applies: the condition as it is written, or null."""
    return json.dumps(_lists(knowledge), ensure_ascii=False)


def _lists(knowledge: Knowledge) -> dict[str, Any]:
    applies = {
        key: plain(entry.get("applies")) for key, entry in knowledge.sections["attributes"].items()
    }
    return {
        "format": FORMAT,
        "attributes": [
            {
                "key": a.key,
                "label": a.label,
                "kind": a.kind,
                "unit": a.unit,
                "choices": [
                    {"key": c.key, "label": choice_words(knowledge, a.key, c.key)}
                    for c in a.choices
                ],
                "of": a.of,
                "question": a.question,
                "applies": applies[a.key],
            }
            for a in knowledge.attributes.values()
        ],
        "causes": [
            {"key": c.key, "label": c.label, "group": c.group, "water": c.water}
            for c in knowledge.causes.values()
        ],
        "groups": [
            {"key": g.key, "label": g.label, "through": g.through}
            for g in knowledge.groups.values()
        ],
        "waters": [{"key": w.key, "label": w.label} for w in knowledge.waters.values()],
        "looks": [
            {
                "key": k.key,
                "attributes": list(k.attributes),
                "minutes": k.minutes,
                "wait_hours": k.wait_hours,
            }
            for k in knowledge.looks.values()
        ],
        "methods": [
            {"key": m.key, "label": m.label, "role": m.role} for m in knowledge.methods.values()
        ],
        "stops": [{"key": s.key, "label": s.label} for s in knowledge.stops.values()],
        "contributors": [{"key": c.key, "label": c.label} for c in knowledge.contributors.values()],
    }


def list_lines(page: Page, knowledge: Knowledge) -> list[Line]:
    """Keys and labels, part by part; attributes with what may stand after them.

    `knowledge show KEY` tells more of each.
    """
    parts = {
        "causes": [
            (
                c.key,
                f"{c.label} ({group_label(knowledge, c.group)}; {water_label(knowledge, c.water)})",
            )
            for c in knowledge.causes.values()
        ],
        "groups": [(g.key, g.label) for g in knowledge.groups.values()],
        "waters": [(w.key, w.label) for w in knowledge.waters.values()],
        **{
            f"attributes-of-{of}": [
                (a.key, _with_form(knowledge, a))
                for a in knowledge.attributes.values()
                if a.of == of
            ]
            for of in get_args(Of)
        },
        "needs": [(n.key, n.label) for n in knowledge.needs.values()],
        "families": [(f.key, f.label) for f in knowledge.families.values()],
        "deductions": [(d.key, "") for d in knowledge.deductions.values()],
        "contributors": [(c.key, c.label) for c in knowledge.contributors.values()],
        "looks": [(k.key, k.label) for k in knowledge.looks.values()],
        "stops": [(s.key, s.label) for s in knowledge.stops.values()],
        "methods": [
            (m.key, f"{m.label} ({knowledge.say(f'role-{m.role}')})")
            for m in knowledge.methods.values()
        ],
        "limits": [(limit.key, limit.label) for limit in knowledge.limits.values()],
        "cautions": [(c.key, c.label) for c in knowledge.cautions.values()],
        "quantities": [
            (q.key, f"{q.label} ({knowledge.say('form-number', unit=q.unit)})")
            for q in knowledge.quantities.values()
        ],
        "materials": [
            (m.key, f"{m.label} ({knowledge.say('form-number', unit=m.unit)})")
            for m in knowledge.materials.values()
        ],
        "proofs": [(p.key, p.label) for p in knowledge.proofs.values()],
        "closing": [(c.key, c.label) for c in knowledge.closing.values()],
        "sums": [(s.key, s.label) for s in knowledge.sums.values()],
        "formulas": [
            (f.name, knowledge.say("formula-reads", reads=", ".join(reads), gives=gives))
            for f in FORMULAS.values()
            for *reads, gives in [_units(knowledge, (*f.reads, f.unit))]
        ],
    }
    lines: list[Line] = []
    for title, entries in parts.items():
        lines += heading(f"{knowledge.say(f'list-of-{title}')} ({len(entries)})")
        for key, label in entries:
            lines += page.wrap(f"{key}: {label}" if label else key, first="  ", rest="      ")
    return lines[1:]


def _units(knowledge: Knowledge, units: tuple[str, ...]) -> list[str]:
    return [knowledge.say("any-unit") if unit == SAME else unit for unit in units]


def _with_form(knowledge: Knowledge, attribute: Attribute) -> str:
    """The label, and what is written in a callout file."""
    say, kind = knowledge.say, attribute.kind
    match kind:
        case "choice" | "several":
            choices = ", ".join(choice.key for choice in attribute.choices)
            form = say(f"form-{kind}", choices=choices)
        case "number":
            form = say("form-number", unit=attribute.unit or "count")
        case _:
            form = say(f"form-{kind}")
    return f"{attribute.label} ({form})"
