"""What leads to a person without a name: mails, numbers to call, accounts, plates, days.

A figure with a unit is none of them, nor is a standard or a class of concrete.
"""

import re
from typing import Final

Pattern = tuple[str, re.Pattern[str]]
"""A kind of identity, and what it looks like."""

# What makes a number a measured one.
NO_UNIT: Final = (
    r"(?![\w]|[.,]\d|\s?(?:[%°‰]|(?:[kMGmcdµu]?m[23²³]?|[kmµu]?g|[mcdµu]?[lL]|[Ll]it[re]+s?|"
    r"m?bars?|"
    r"[hkMGm]?Pas?|psi|[kM]?Nm?|[mkµu]?[VAWS]|k?Hz|s|sec|h|hrs?|hours?|min|minutes|days?|weeks?|"
    r"months?|years?|ft|inch|inches|gal|ppm|rpm|drops?|Stunden|Tagen?|Wochen|Tropfen)\b))"
)
# What stands before the number of a standard, a pipe or a class.
_NO_STANDARD = (
    r"(?!(?:ACI|ANSI|AS|ASTM|AWS|BS|CE|CEM|CFR|CIRIA|CSN|DIN|DN|DS|EAD|EN|ENV|ETA|ETAG|ID|IEC|II|III|"
    r"IP|ISO|IV|JIS|NEN|NF|NS|OD|PE|PN|RAL|SDR|SFS|SIA|SN|SS|STN|TR|UNE|UNI|VOB|WU|XA|XC|XD|XF|XM|XS|ZTV|"
    r"PVC|PSI|XPS|EPS|HEA|HEB|HEM|IPE|UPN|UPE|RHS|SHS|CHS|GFK|GRP|SBR|SCC|HPC|GB|NZS|HSG)(?![A-Z]))"
)
_NO_FIGURE = r"(?!PVC|RPM|PPM|PSI|GFK|KWH|LTR|GRP|SBR|HDP|TPH|MPH|XPS)"
_GAP = r"[\s().\/–‑-]{0,3}"
_DAY = r"(?:0?[1-9]|[12]\d|3[01])"
_MONTH_NUMBER = r"(?:0?[1-9]|1[0-2])"
# A month that is an everyday word too counts with a capital only.
_MONTH = (
    r"(?:Mar(?:ch|\.)?|May|Mai|März|Mär\.?|Jan\.?|Feb\.?|Apr\.?|Jun\.?|Jul\.?|Aug\.?|Sept?\.?|"
    r"Oct\.?|Okt\.?|Nov\.?|Dec\.?|Dez\.?|(?i:january|januar|jänner|janvier|januari|"
    r"february|februar|février|februari|maart|april|avril|mars|juin|juillet|june|july|juni|juli|"
    r"august|augustus|août|septemb(?:er|re)|octob(?:er|re)|oktober|novemb(?:er|re)|"
    r"d[eé][cz]emb(?:er|re)|enero|febrero|marzo|abril|mayo|junio|julio|agosto|septiembre|octubre|"
    r"noviembre|diciembre|gennaio|febbraio|aprile|maggio|giugno|luglio|settembre|ottobre|novembre|"
    r"dicembre|stycznia|lutego|marca|kwietnia|maja|czerwca|lipca|sierpnia|września|października|"
    r"listopada|grudnia|ledna|února|března|dubna|května|června|července|srpna|září|října|"
    r"listopadu|prosince))"
)


def patterns(kind: str, *looks: str) -> tuple[Pattern, ...]:
    """A group called `cue` is what stands before an identity; it stays."""
    return tuple((kind, re.compile(look)) for look in looks)


# Looking from the start of a word only keeps a long one from taking long.
_MAILBOX = r"(?<![\w.+%'-])[\w.+%'-]+"

MAILS: Final = patterns(
    "mail",
    rf"{_MAILBOX}\s?@\s?[\w-]+(?:\.[\w-]+)+",
    rf"(?i:{_MAILBOX}\s?[(\[{{]\s?at\s?[)\]}}]\s?[\w-]+"
    r"(?:\s?(?:[(\[{]\s?(?:dot|punkt)\s?[)\]}]|\.)\s?[\w-]+)+)",
    rf"(?i:{_MAILBOX} at [\w-]+(?: dot [\w-]+)+)",
)
WEB: Final = patterns(
    "web-address",
    r"(?i:\b(?:https?|ftp)://[^\s<>\"\[\]]+)",
    r"(?i:\bwww\.[^\s<>\"\[\]]+)",
    r"(?<![\w.-])(?:[\w-]+\.)+(?:com|org|net|de|at|ch|fr|es|it|nl|be|pl|cz|sk|uk|eu|dk|se|ie|pt|"
    r"info|"
    r"app|biz|example)\b(?:/[^\s\[\]]*)?",
    r"(?<![\w@])@[A-Za-z]\w{2,}",
)
ACCOUNTS: Final = patterns(
    "account",
    # IBAN, in blocks or not.
    r"\b[A-Z]{2}\d{2}(?:[ -]?[A-Z0-9]{4}){2,7}(?:[ -]?[A-Z0-9]{1,4})\b",
    r"\b[a-z]{2}\d{13,30}\b",
    # Cards; Czech accounts and birth numbers; American social security.
    r"(?<![\w.,])\d{4}(?:[ -]\d{4}){2}[ -]\d{1,4}" + NO_UNIT,
    r"(?<![\w.,/])(?:\d{2,6}-)?\d{6,10}/\d{3,4}" + NO_UNIT,
    r"(?<![\w.,-])\d{3}-\d{2}-\d{4}" + NO_UNIT,
    r"(?P<cue>(?i:\b(?:sort code|bank code|blz)\W{0,3}))\d{2}[ -]?\d{2}[ -]?\d{2,4}\b",
    r"(?P<cue>(?i:\b(?:bic|swift)\W{0,3}))[A-Za-z0-9]{8,11}\b",
    r"(?P<cue>(?i:\b(?:account|acct|a/c|konto|policy|police|polic[eo]|claim|contract|invoice|"
    r"order|customer|"
    r"member|s/n|ref|reference|file|case|ticket|passport|licence|license|permit|serial|meter|tax|"
    r"vat|"
    r"(?:\w*(?:versicherung|schaden|vertrag|kunde|rechnung|auftrag|akte|zähler|steuer|police))s?n?|"
    r"sinistre|contrat|dossier|facture|póliza|siniestro|contrato|factura|polizza|sinistro|"
    r"contratto|"
    r"polisa|polisy|szkod[ay]|umow[ay]|faktur[ay]|smlouv[ay]|pojistk[ay]|faktura|polis|factuur)"
    r"[\s-]?(?:no|nr|n[°º]|num|number|nummer|numer|id|č|#)?[.:]*\s*(?:is\s|#)?\s*))"
    r"(?!C\d\d/\d\d|\d{1,3}(?:[.,]\d+)?\s?[-–]\s?\d{1,3}(?:[.,]\d+)?\s)(?=[^\s]*\d[^\s]*\d[^\s]*\d[^\s]*\d)"
    r"[A-Z0-9][A-Za-z0-9/.-]*[A-Za-z0-9](?:\s\d{3,})*" + NO_UNIT,
    r"(?P<cue>(?i:\b(?:USt-?Id|VAT|NIP|REGON|IČO?|DIČ|PESEL|SIRET|SIREN|CIF|NIF|DNI|BSN|KVK|"
    r"P\.? ?IVA)\W{0,4}"
    r"(?:nr|no)?\W{0,3}))[A-Z]{0,3}\d[\dA-Z .-]{5,16}\b",
    r"(?<![\w.,])\d{13,}" + NO_UNIT,
)
DATES: Final = patterns(
    "date",
    rf"(?<![\w.,/:-])(?<!EN )(?<!ISO )(?<!DIN )(?<!IEC )"
    rf"\d{{4}}[-/.]{_MONTH_NUMBER}[-/.]{_DAY}(?:[T ]\d\d:\d\d(?::\d\d)?Z?)?{NO_UNIT}",
    r"(?<![\w.,/:-])(?<![Cc]lause )(?<![Ss]ection )(?<!§ )"
    rf"{_DAY}(?:[-/]{_DAY}[-/]|\.\s?{_MONTH_NUMBER}\.\s?)(?:19|20)?\d{{2}}{NO_UNIT}(?!\s?-\d)",
    rf"(?<![\w.,]){_DAY}(?:st|nd|rd|th|er|º|\.)?\s(?:of\s|de\s)?{_MONTH}(?!\w)"
    r"(?:,?\s(?:del?\s)?\d{4}\b)?",
    rf"\b{_MONTH}\s{_DAY}(?:st|nd|rd|th)?{NO_UNIT}(?:,?\s(?:19|20)\d{{2}}\b)?",
    rf"(?<![\w.,/:-])(?:19|20)\d\d(?:0[1-9]|1[0-2])(?:0[1-9]|[12]\d|3[01]){NO_UNIT}",
    rf"\b{_MONTH}\s(?:de\s)?(?:19|20)\d{{2}}\b",
)
_CALL = (
    r"(?P<cue>(?i:\b(?:tel|tél|telefon|telefoon|teléfono|telefono|téléphone|phone|mobile|mobil|"
    r"móvil|"
    r"cellulare|cell|call|ring|rufen|handy|fax|gsm|komórka|dial)\b\.?\s?(?:no|nr|number)?[.:]*\s*))"
)
PHONES: Final = patterns(
    "phone",
    r"(?<![\w.,+])(?:\+|00)\s?\(?[1-9]" + rf"(?:{_GAP}\d){{6,14}}" + NO_UNIT,
    r"(?<![\w.,+-])\(?0\d{1,5}\)?" + rf"(?:{_GAP}\d){{5,10}}" + NO_UNIT,
    r"(?<![\w.,+-])(?:1[\s.-])?(?:\([2-9]\d\d\)\s?|[2-9]\d\d[\s.-])\d{3}[\s.-]\d{4}" + NO_UNIT,
    # Three times three; Warsaw and Madrid; Spain in pairs; all without a unit behind.
    r"(?<![\w.,+-])(?<!\d )[2-9]\d\d([ .-])\d{3}\1\d{3}(?![ .-]\d)" + NO_UNIT,
    r"(?<![\w.,+-])(?<!\d )\(?\d{2}\)?[ -]\d{3}[ -]\d{2}[ -]\d{2}(?![ .-]\d)" + NO_UNIT,
    r"(?<![\w.,+-])(?<!\d )[6-9]\d{2} \d{2} \d{2} \d{2}(?! \d)" + NO_UNIT,
    r"(?<![\w.,+-])(?<!\d )2\d \d{3,4} \d{4}(?! \d)" + NO_UNIT,
    r"(?<![\w.,+-])3\d\d[ /.-]\d{6,7}" + NO_UNIT,
    _CALL + r"[+(]?\d" + rf"(?:{_GAP}\d){{4,14}}" + NO_UNIT,
    r"(?<![\w.,+-])\d{9,12}" + NO_UNIT,
)
PLATES: Final = patterns(
    "plate",
    # Germany, Austria, Switzerland.
    rf"\b{_NO_STANDARD}[A-ZÄÖÜ]{{1,3}}-[A-Z]{{1,2}}[ -]?\d{{2,4}}[EH]?"
    rf"(?<!\b[A-Z]-[A-Z] \d\d){NO_UNIT}",
    rf"\b{_NO_STANDARD}[A-ZÄÖÜ]{{1,3}} {_NO_STANDARD}[A-Z]{{1,2}} ?\d{{3,4}}[EH]?{NO_UNIT}",
    r"\b[A-Z]{1,2}-(?:\d{5} ?[A-Z]|\d{4} ?[A-Z]{2}|\d{3} ?[A-Z]{2,3})\b",
    r"\b(?:A[GIR]|B[ELS]|FR|G[ELR]|JU|LU|N[EW]|OW|S[GHOZ]|T[GI]|UR|V[DS]|"
    r"Z[GH])[ -]?[·•]?\s?(?:\d{5,6}|\d{3}\s\d{3})\b",
    # Britain; France and Italy; Spain; Netherlands.
    r"\b[A-Z]{2}\d{2} ?[A-Z]{3}\b",
    rf"\b{_NO_STANDARD}[A-Z]{{2}}([ -]?)\d{{3}}\1{_NO_STANDARD}[A-Z]{{2}}\b",
    rf"\b\d{{4}}[ -]?{_NO_FIGURE}[BCDFGHJKLMNPRSTVWXYZ]{{3}}\b",
    r"\b(?:[A-Z]{2}-\d\d-\d\d|\d\d-\d\d-[A-Z]{2}|\d\d-[A-Z]{2}-\d\d|[A-Z]{2}-\d\d-[A-Z]{2}|"
    r"[A-Z]{2}-[A-Z]{2}-\d\d|\d\d-[A-Z]{2}-[A-Z]{2}|\d\d-[A-Z]{3}-\d|\d-[A-Z]{3}-\d\d|"
    r"[A-Z]{2}-\d{3}-[A-Z]|[A-Z]-\d{3}-[A-Z]{2})\b",
    # Poland; Czechia and Slovakia.
    rf"\b{_NO_STANDARD}(?:[A-Z]{{2}} ?(?=(?:[A-Z]*\d){{3}})[A-Z0-9]{{5}}|"
    rf"[A-Z]{{3}}(?: |(?=\d))(?=(?:[A-Z]*\d){{3}})[A-Z0-9]{{4,5}}){NO_UNIT}",
    rf"\b\d[A-Z][A-Z0-9][ -]?\d{{4}}{NO_UNIT}",
    r"(?P<cue>(?i:\b(?:number ?plate|licen[cs]e ?plate|plate ?(?:no|number)|"
    r"reg(?:istration)?(?:\.|\s?no\.?|"
    r"\s?number)?|kennzeichen|nummernschild|immatriculation|immatriculée?|matrícula|targa|kenteken|"
    r"rejestracja|tablica|spz|rz)[\s.:]{1,3}(?:is\s)?))"
    r"(?=[A-Z0-9 -]*\d)[A-Z0-9]{1,4}(?:[ ·-]?[A-Z0-9]{1,5}){1,3}\b",
)
