"""From the entries of a folder to the knowledge: everything read, checked and put together."""

from collections.abc import Mapping
from dataclasses import replace
from itertools import chain
from pathlib import Path

from advisor.engine import (
    Condition,
    Deduction,
    Hypothesis,
    Interval,
    Model,
    Need,
    Variable,
    WorkedOut,
)
from advisor.knowledge.checks import find_faults
from advisor.knowledge.conditions import Vocabulary
from advisor.knowledge.entries import DeductionEntry, FamilyEntry, Weights, WorkedOutBy
from advisor.knowledge.knowledge import Knowledge
from advisor.knowledge.laying import read_folders
from advisor.knowledge.names import Findings
from advisor.knowledge.phrases import read_phrases
from advisor.knowledge.read_advice import Advice, read_advice
from advisor.knowledge.read_attributes import read_applicability, read_attributes
from advisor.knowledge.read_causes import Causes, read_causes
from advisor.knowledge.read_cautions import read_cautions, read_proofs
from advisor.knowledge.read_deductions import read_deductions
from advisor.knowledge.read_families import read_families
from advisor.knowledge.read_library import read_closing, read_keeping
from advisor.knowledge.read_methods import read_limits, read_methods, read_moments
from advisor.knowledge.read_quantities import read_materials, read_quantities
from advisor.knowledge.read_ranges import read_ranges
from advisor.knowledge.read_sums import read_sums
from advisor.knowledge.read_weights import read_sources, read_weights
from advisor.knowledge.read_worked_out import read_worked_out
from advisor.knowledge.repair_checks import made_in_circles, never_met, other_units
from advisor.knowledge.repair_entries import Caution, Limit, Method, Moment, Proof
from advisor.water import FORMULAS


def compile_folders(*folders: Path) -> Knowledge:
    """The knowledge of a folder, with another laid over it.

    Raises Faulty with every fault found, each with file, line and entry.
    """
    folder = read_folders(*folders)
    sections, faults = folder.sections, Findings(folder.torn)
    faults.add(*folder.faults)
    sources = read_sources(sections, faults)
    phrases = read_phrases(sections, faults)
    attributes = read_attributes(sections, faults)
    vocabulary = Vocabulary(attributes, sections["attributes"].keys())
    worked_out = read_worked_out(sections, vocabulary, faults)
    sums = read_sums(sections, attributes, faults)
    applies, unsure_when = read_applicability(sections, vocabulary, faults)
    weights = read_weights(sections, faults)
    causes = read_causes(sections, vocabulary, faults)
    deductions = read_deductions(sections, vocabulary, faults)
    deductions |= read_ranges(sections, vocabulary, faults)
    families = read_families(sections, vocabulary, causes.causes, weights, faults)
    advice = read_advice(sections, vocabulary, faults)
    limits = read_limits(sections, vocabulary, faults)
    methods = read_methods(sections, vocabulary, faults)
    moments = read_moments(sections, vocabulary, faults)
    cautions = read_cautions(sections, vocabulary, faults)
    proofs = read_proofs(sections, vocabulary, faults)
    closing = read_closing(sections, faults)
    keeping = read_keeping(sections, attributes, faults)
    quantities = read_quantities(sections, attributes, faults)
    materials = read_materials(sections, faults)
    for_repair = _for_repair(limits, methods, moments, cautions, proofs)
    model = _model(
        variables=_with_conditions(vocabulary.variables, applies, unsure_when),
        worked_out=worked_out,
        causes=causes,
        deductions=deductions,
        families=families,
        advice=advice,
        weights=weights,
    )
    faults.add(*find_faults(model, sections))
    faults.add(*never_met(for_repair, model, sections))
    faults.add(*made_in_circles(methods, sections))
    faults.add(*other_units(methods, materials, quantities, sections))
    faults.stop()
    return Knowledge(
        fingerprint=folder.fingerprint,
        folders=folders,
        attributes=attributes,
        applies=applies,
        worked_out=worked_out,
        sums=sums,
        groups=causes.groups,
        waters=causes.waters,
        needs=causes.needs,
        causes=causes.causes,
        deductions=deductions,
        families=families,
        contributors=advice.contributors,
        looks=advice.looks,
        stops=advice.stops,
        limits=limits,
        methods=methods,
        moments=moments,
        quantities=quantities,
        materials=materials,
        cautions=cautions,
        proofs=proofs,
        closing=closing,
        keeping=keeping,
        for_repair=for_repair,
        weights=weights,
        sources=sources,
        phrases=phrases,
        model=model,
        differences=folder.differences,
        changed=folder.changed,
    )


def _with_conditions(
    variables: Mapping[str, Variable],
    applies: Mapping[str, Condition],
    unsure_when: Mapping[str, Condition],
) -> tuple[Variable, ...]:
    """Each variable with what its attribute says about when it applies."""
    return tuple(
        replace(
            variable,
            applies=applies.get(key.partition(".")[0]),
            unsure_when=unsure_when.get(key.partition(".")[0]),
        )
        for key, variable in variables.items()
    )


def _model(
    *,
    variables: tuple[Variable, ...],
    worked_out: tuple[WorkedOutBy, ...],
    causes: Causes,
    deductions: Mapping[str, DeductionEntry],
    families: Mapping[str, FamilyEntry],
    advice: Advice,
    weights: Weights,
) -> Model:
    return Model(
        variables=variables,
        hypotheses=tuple(
            Hypothesis(key=c.key, base=c.base_rate, needs=c.needs, within=c.within)
            for c in causes.causes.values()
        ),
        deductions=tuple(
            Deduction(
                key=d.key if len(d.then) == 1 else f"{d.key}/{variable}",
                when=d.when,
                variable=variable,
                strikes=strikes,
            )
            for d in deductions.values()
            for variable, strikes in d.then
        ),
        worked_out=tuple(
            WorkedOut(
                variable=w.attribute,
                inputs=w.inputs,
                work=FORMULAS[w.formula],
                given=w.given,
                assumed=_assumed(w),
            )
            for w in worked_out
        ),
        families=tuple(f.family for f in families.values()),
        needs=tuple(
            Need(key=n.key, when=n.when, share=n.share, again=n.again)
            for n in causes.needs.values()
        ),
        watched=_watched(causes, advice, worked_out),
        base_by="kind",
        right_sure=weights.right_sure,
        right_unsure=weights.right_unsure,
    )


def _assumed(way: WorkedOutBy) -> tuple[Interval | None, ...]:
    """What each input is taken to be where nothing is known of it; () where nothing is."""
    if not way.assumed:
        return ()
    ranges = (way.assumed.get(key) for key in way.inputs)
    return tuple(None if taken is None else (taken.lo, taken.hi) for taken in ranges)


def _watched(
    causes: Causes, advice: Advice, worked_out: tuple[WorkedOutBy, ...]
) -> dict[str, Condition]:
    """Conditions that are asked beside the beliefs, by section, key and part."""
    asked = chain(
        ((f"waters {w.key}", w.possible_when) for w in causes.waters.values()),
        ((f"shown {c.key}", c.shown) for c in advice.contributors.values()),
        ((f"possible {c.key}", c.possible) for c in advice.contributors.values()),
        ((f"looks {k.key}", k.only_when) for k in advice.looks.values()),
        ((f"stops {s.key}", s.when) for s in advice.stops.values()),
        ((f"open {s.key}", s.open_when) for s in advice.stops.values()),
        ((f"ways {way.attribute}/{number}", way.given) for number, way in enumerate(worked_out)),
    )
    return {key: condition for key, condition in asked if condition is not None}


def _for_repair(
    limits: Mapping[str, Limit],
    methods: Mapping[str, Method],
    moments: Mapping[str, Moment],
    cautions: Mapping[str, Caution],
    proofs: Mapping[str, Proof],
) -> dict[str, Condition]:
    """Conditions that a plan asks, by section, key and part."""
    worse = [
        (f"methods {m.key}/{number}", w.when)
        for m in methods.values()
        for number, w in enumerate(m.worse)
    ]
    asked = chain(
        ((f"limits {limit.key}", limit.must) for limit in limits.values()),
        worse,
        ((f"moments {m.key}", m.come) for m in moments.values()),
        ((f"cautions {c.key}", c.when) for c in cautions.values()),
        ((f"proofs {p.key}", p.always) for p in proofs.values()),
    )
    return {key: condition for key, condition in asked if condition is not None}
