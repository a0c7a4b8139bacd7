"""Every phrase that the program says, and the names it gives to each: `key(name name)`.

The texts stand in `knowledge/phrases/`, one file for each part here. A test walks the program
and finds each phrase said somewhere, with just these names.
"""

import re
from collections.abc import Mapping
from typing import Final

_SCREEN = """
wet-place(leak file) stops-raised stop-raised(stop) do barred bars released-by stops-open
stop-open(question) write-answers-under looks-that-answer is-it-through neither-is-listed
which-water on-the-other-side which-path which-cause small-causes-one(count)
small-causes-many(count) causes-out-one(count) causes-out-many(count) these-are-out
not-in-this-kind is-it-settled settled-on-cause(cause) what-confirms settled-on-path(path)
cause-still-open not-settled ahead-but-not-clear still-between no-look-changes-leader
a-look-changes-leader for-and-against how-common-each for-it against-it hardly-for-it-one(count)
hardly-for-it-many(count) hardly-against-it-one(count) hardly-against-it-many(count)
nothing-speaks finding-unsure(finding) need-here(need) need-not-here(need) need-perhaps-not(need)
left-unexplained common-with(finding cause) what-makes-it-worse contributor-shown(contributor)
contributor-possible(contributor) unfit exclude-each-other(attribute found)
found-but-does-not-apply(attribute found why) does-not-apply
found-but-deduced(attribute found deduced rules) nothing-that-can-be deduced-both(attribute rules)
only-deduced hangs-on hangs-on-nothing hangs-on-these(part) remark(remark)
outside-its-formula(leak facts why) made-by(advisor knowledge) own-entries-one(count)
own-entries-many(count) no-proof
"""
_LOOKS = """
next-looks no-look-left look-barred stops-above(count) question it-can-be number-in(unit) a-date
write-under look-takes(time who worth change) changes-leader keeps-leader look-needs look-damages
look-spoils minutes-one(count) minutes-many(count) hours-one(count) hours-many(count)
days-one(count) days-many(count) no-waiting(work) then-waiting(work wait) tells-a-lot(bits)
tells-something(bits) tells-a-little(bits) tells-hardly-anything(bits) step-all-work step-enter
step-drill step-break-out step-seal step-rigid-fill step-inject step-empty step-dig who-eyes-here
who-occupant who-own-office who-own-technician who-plant who-owners-file who-laboratory
who-worked-out
"""
_BRIEF = """
brief-settled-on-cause(cause) brief-settled-on-path(path) brief-not-settled brief-unfit
still-possible(causes) standing-consistent standing-open standing-not-tested others-one(count)
others-many(count) not-consistent(causes) not-consistent-nothing found-against(finding)
until-then(orders) until-then-nothing until-then-do(stop do) until-then-answer(questions)
until-then-do-not(until steps) until-released(roles) until-answered brief-next-look(look who)
brief-no-look brief-look-hardly brief-look-barred
"""
_REASONS = """
every-cause how-weights-come ruled-out base-rate weight(total) why-not(cause)
why-not-rarer(cause times) why-not-nothing(cause) what-followed what-would-follow
evidence-not-read because test-true test-false test-unknown in-conflict
"""
_SUMS = """
what-numbers-say sums-what sums-how sum-needs sum-better-with sum-gives sum-example
sum-loads(subject) sum-or-from(inputs) sum-answer(answer) sum-came-out sum-went-in sum-mind
sum-how sum-holds sum-unsure(fact) sum-is-likely(what number likely) sum-is(what number)
sum-of-pour(what pour) loads-all-well(count) loads-odd(odd count pours)
load-odd(row ticket pour dose off what) sum-give-also(attributes)
sum-cannot-be(what findings) sum-cannot-be-judged(what)
sum-assumed(what number) limit-of-a-range limit-air-outside limit-over-nothing limit-no-humidity
limit-inside-as-outside limit-no-thickness limit-crack-wider-than-part limit-water-not-liquid
limit-too-fast-for-the-law limit-rough-flow limit-no-head limit-no-flow limit-heads-alike
limit-too-wide-to-heal limit-too-steep-to-heal limit-swing-too-large limit-crack-shuts
limit-air-too-dry-for-shrinkage limit-too-thin limit-water-too-warm limit-outside-both-waters
limit-sources-alike limit-not-limy
"""
_REPAIR = """
limit-met(limit) limit-made(limit by) limit-unknown(limit look) limit-not-met(limit found because)
found-elsewhere holds-with-none past-its-limit(what limit) no-certificate(certificate)
certificate-expired(certificate day) not-in-the-van(material) stock-expired(material day)
too-few-packs(material packs) beyond-the-tool(what tool has) tool-drill-length tool-pump-pressure
which-method no-method-left methods-less-likely-one(count) methods-less-likely-many(count)
methods-out-one(count) methods-out-many(count) only-ifs-one(count) only-ifs-many(count)
methods-ruled-out the-plan horizon-tonight horizon-until horizon-lasting nothing-to-do
at-the-moment(what when) not-yet-free(what) look-pays(look gain) whole-plan
repair-sheet(leak file) sheet-is-not released-stops released-stop(stop role date words) the-repair
chance-to-hold(chance) best-moment tight-here against-advice chosen-is-out(why)
advised-instead(method) step-only-if(look) amount-likely(number likely) what-waits
waits-for(stops) to-load packs-one(count) packs-many(count) cost-in-all(cost) best-today
nothing-can-be-done mind local-limits-win threshold(what value where dated) permit(what by)
what-proves-it about-the-method curing usual-failure well-done-when if-wet-again shuts-off
standards values-disagree cost-band cost-of-5(cost) next-in-line looks-of-it hardly-likely
every-method(why) amount-contradicts(what limit)
waits-for-stops-one(count) waits-for-stops-many(count) no-figure-yet amount-needs(attributes)
prove(look when) prove-with-the-water-up(look when) wet-again(do) wet-again-then(do method)
no-repair-advice(do) plan-withheld(stops steps) no-method-fits tight-is(agreed)
tight-is-not-agreed
"""
_FIGURES = """
yes no unknown not-applicable one-or-other(one other) one-and-other(one other)
not-choices(choices) not-this(condition) not-these(condition) percent(number) percent-under-1
percent-over-99 number-under(number) number-over(number) number-at-least(number)
number-at-most(number) number-between(low high) reading-first reading-highest reading-lowest
reading-change common-times(times) common-two-and-a-half common-twice common-half-again
common-third-more common-little-more common-hardly-more common-hardly-less common-little-less
common-three-quarters common-two-thirds common-half common-third common-quarter common-fifth
common-sixth common-seventh common-eighth common-ninth common-tenth common-rarer(times)
common-never common-with-no-other likely-times(times) likely-two-and-a-half likely-twice
likely-half-again likely-third-more likely-little-more likely-hardly-more likely-hardly-less
likely-little-less likely-three-quarters likely-two-thirds likely-half likely-third likely-quarter
likely-fifth likely-sixth likely-seventh likely-eighth likely-ninth likely-tenth
likely-rarer(times) likely-never likely-with-no-other
"""
_PAGES = """
entry-head(key kind file line) kind-causes kind-groups kind-waters kind-structures kind-attributes
kind-needs kind-deductions kind-ranges kind-families kind-contributors kind-looks kind-stops
kind-methods kind-limits kind-moments kind-quantities kind-materials kind-cautions kind-proofs
kind-closing kind-keeping kind-sources none not-before-days one-of-these-proofs asked-on-paths
asked-in-kinds
all-of-them kept-not-at-all kept-in-bands asked-of-an-old-case
sources source-title source-status status-verified status-from-memory status-common-practice
status-own-judgement rest-on-source also-called group through-yes through-no through-unlisted
water fault-within how-common of-100-leaks(count) how-common-by-kind does-not-occur-in
needs-or-out where-evidence-lies how-confirmed confused-with causes-in-it can-stand-there
water-one-of causes-with-this-water how-common-each-cause does-not-occur speaks-for-it
speaks-against-it no-family-yet counts-when(given) the-rest met-in(whole one other times)
word-cut(asked given) family-reads family-counts-when family-story family-reads-again family-rest
family-share(count whole) word-times(number) word-strong-for word-strong-against word-moderate-for
word-moderate-against word-weak-for word-weak-against reading-says-nothing how-to-check
who-can-know belongs-to block-structure block-visit block-leak answer answer-choice answer-several
answer-yes-no answer-date answer-text answer-from(limit) answer-to(limit) applies-when unsure-when
looks-answering settled-by-deductions read-by-families read-by-deductions read-by-needs
read-by-stops need-is-there-when need-share of-100(count) need-rules-out need-reads-again when
then look-answers takes by gives-answer times-of-100(count) damages spoils only-when asked
asked-at-the-door asked-when-it-applies raised-when open-when contributor-takes-no-belief
shown-when possible-when role role-hold role-slow role-seal role-protect role-strengthen role-mend
role-watch role-manage role-hand-over good-for can-be-undone how-often-it-holds
holds-with(causes rate weight) worse worse-when(condition times because) holds-only-if
brings-about(what count) comes-before comes-after how-it-is-done work-secure work-relieve
work-slow work-look work-prepare work-seal work-protect work-strengthen work-prove work-come-back
bars-and-cautions-by works-out materials-of-it proofs-of-it how-worked-out must-be-so
so-where-nobody-looked brought-about-by methods-that-use-it moment-has-come always counted-in
worked-out-from first-known-of taken-where-unknown never-more-than lost-of-it certificate-asked
at-this-work shown-by only-with-the-water-up due due-days(first last) in-every-plan-unless
step-chase step-mix-resin step-mix-gel step-mix-cement step-spray-or-coat step-grind step-hot-work
step-lift-cover step-dewater step-isolate step-work-high step-traffic step-solvent
"""
_LISTS = """
list-of-causes list-of-groups list-of-waters list-of-attributes-of-structure
list-of-attributes-of-visit list-of-attributes-of-leak list-of-needs list-of-families
list-of-deductions list-of-contributors list-of-looks list-of-stops list-of-methods list-of-limits
list-of-cautions list-of-quantities list-of-materials list-of-proofs list-of-closing list-of-sums
list-of-formulas any-unit formula-reads(reads gives) form-choice(choices) form-several(choices)
form-yes-no form-number(unit) form-date form-text knowledge-named(knowledge) causes-one(count)
causes-many(count) attributes-one(count) attributes-many(count) families-one(count)
families-many(count) deductions-one(count) deductions-many(count) looks-one(count)
looks-many(count) stops-one(count) stops-many(count) no-faults-remarks-one(count)
no-faults-remarks-many(count) how-far-apart cases-blind cases-seen cases-together cases-counted
cases-top-1 cases-top-3 cases-group-top-1 cases-through cases-log-loss cases-clear
cases-acceptable cases-of(part count) cases-forbidden cases-settled(part)
cases-settled-right(part) cases-missed case-blind case-was case-led below-the-floor
"""

_LOG = """
gate-stops(stops) gate-repair gate-tight gate-tight-at(level) gate-proof(proof keys) gate-cause
gate-owner log-which-leak(leaks) log-which-kind log-kind-proposed log-kind-secured log-kind-agreed
log-kind-done log-kind-confirmed log-kind-supported log-kind-looked log-kind-told log-kind-closed
log-kind-handed-over log-ask-date log-ask-secured log-ask-agreed log-ask-done log-ask-confirmed
log-ask-supported log-ask-looked log-ask-told log-ask-closed log-ask-handed-over log-ask-by
log-ask-quantities log-ask-conditions log-ask-deviations log-ask-water-height log-ask-packers
log-ask-how log-ask-role log-ask-contributors log-ask-present log-ask-accepted-by log-ask-water-up
log-ask-within-agreed log-ask-proof(proofs) log-ask-readings log-ask-cause-confirmed log-ask-words
log-one-of(words) log-or-nothing log-or-as-before log-no-pair log-added(file kinds leak status)
log-first-answer log-not-tested log-before-the-repair log-next(file) stands-reported
stands-secured stands-looked-at stands-cause-proposed stands-cause-confirmed stands-repair-agreed
stands-repaired stands-watching stands-closed stands-reopened stands-handed-over
due-record(callout file) due-stand(leak status day) due-stand-no-day(leak status)
due-by-date(first last look state) due-by-event(when look state) due-water-up due-open due-passed
due-not-tested due-failed due-nothing due-gates due-dates(dates) due-date(what day) due-visit
due-no-deadline
"""

_HISTORY = """
library-invented similar-places similar-none similar-no-cause similar-no-day
similar-means similar-case(case place kind quarter status) similar-in similar-differs
similar-compared(what count) similar-here(found here) similar-no-repair library-found-none
similar-held(method days) similar-failed(method days) similar-not-tested(method)
book-and-own(book own) history-used(places repairs base times) library-keep-note
library-photo(name size) library-photos(count folder)
library-removed(file removed) library-removed-kind(kind count)
library-added(new replaced same count path) library-case(case kind quarter origin)
library-found(shown count) library-labels library-place(place status) library-findings
library-shown(day cause share) library-confirmed(day cause how) library-done(day method)
library-looked(day state) library-closed(day because) library-forgotten(case copies)
library-held(case) library-lifted(case) library-hold(case who why review) library-no-hold
library-exported(count file) import-unmatched(column) import-word(word count)
import-taken(taken rows) backfill-ask(field question) backfill-quarter backfill-cause backfill-how
backfill-method backfill-months backfill-state backfill-water-up origin-own origin-from-records
origin-remembered confirmed-opened-and-seen confirmed-separating-test confirmed-document
confirmed-experts-opinion state-tight state-better state-same state-worse state-moved-along
"""

_LIBRARY = """
facts-all facts-middle-days facts-other-causes-one(count) facts-other-causes-many(count)
facts-invented facts-head(places cases) facts-none-yet facts-places-one(count)
facts-places-many(count) facts-cases-one(count) facts-cases-many(count) facts-repairs-one(count)
facts-repairs-many(count) facts-groups-one(count) facts-groups-many(count) facts-leaks-one(count)
facts-leaks-many(count) facts-count(places cases) facts-named(label key) facts-not-known
facts-few-told facts-standing facts-by-path facts-by-water facts-by-kind
facts-path-rests(confirmed places) facts-confirmed facts-open facts-oldest(quarter) facts-closed
facts-handed-over facts-reopened facts-not-through facts-within-class facts-never-confirmed
facts-days-to-close facts-visits-a-case facts-quartiles(median lower upper of) facts-causes
facts-causes-confirmed facts-held facts-held-means facts-no-repairs facts-silent(repairs silent)
facts-rows-are facts-by-method facts-by-method-and-path facts-method(method repairs silent sites)
facts-on-path(method path repairs silent sites confirmed) facts-path-not-known
facts-between-looks(shares) facts-between-share(months share) facts-not-shown(groups repairs)
facts-unlike facts-unlike-means facts-unlike-row(path one repairs other others verdict p)
facts-unlike-differ facts-unlike-open facts-first facts-first-means(places cases unconfirmed)
facts-top-1 facts-top-3 facts-share(share right of low high) facts-too-few-to-say(cases)
facts-says-as-said facts-says-too-sure facts-says-too-unsure facts-error(error low high) facts-bins
facts-rates facts-rates-means(first last) facts-rates-none facts-rates-left-out(quarters)
facts-rates-undated(places) facts-rate(what rate low high count)
facts-rates-of(kind base quarters per) facts-what-leaks facts-what-repairs facts-what-on-path(path)
facts-all-kinds facts-base-metres-of-joint(number) facts-base-cubic-metres(number)
facts-picture-survival facts-picture-reliability facts-picture-causes
facts-picture-most-used(shown all) facts-picture-most-met(shown all)
facts-picture-first(places cases) facts-months-after-repair facts-share-holding facts-still-watched
facts-shaded-interval facts-barred-interval facts-dashed-few facts-invented-cases
facts-confidence-given facts-share-right facts-as-said facts-number-of-places
facts-after-months(number) facts-percent(number) facts-percent-range(low high)
facts-number-watched(number) facts-few facts-said-right(said right low high cases)
"""

_SIGNATURE = re.compile(r"([a-z0-9-]+)(?:\(([a-z ]+)\))?")

ASKED: Final[Mapping[str, tuple[str, ...]]] = {
    key: tuple(names.split())
    for part in (
        _SCREEN,
        _LOOKS,
        _BRIEF,
        _REASONS,
        _SUMS,
        _REPAIR,
        _FIGURES,
        _PAGES,
        _LISTS,
        _LOG,
        _HISTORY,
        _LIBRARY,
    )
    for key, names in _SIGNATURE.findall(part)
}
"""The names that may, and must, stand in braces in each phrase."""
