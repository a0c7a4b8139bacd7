"""What leads to a place: coordinates, streets, postcodes with their towns."""

from typing import Final

from advisor.library.scrub.contacts import NO_UNIT, patterns

_CAP = "[A-ZÀ-ÖØ-ÞĀ-Ž][\\w'’-]+"
# Words of the trade that have a capital beside a number and are no town and no street.
NO_TRADE = (
    r"(?!(?:Part|Teil|Annex|Table|Clause|Section|Joints?|Cracks?|Packers?|Panels?|Walls?|Slab|Axis|"
    r"Grid|Ring|Level|Pump|Phase|Wand|Fugen?|Riss|Keller|Decke|Boden|Sohle|Achse|Feld|Stunden|"
    r"Tagen?|"
    r"Liter|Tropfen|Meter|Kubikmeter|Gramm|Kilo|Euro|Wasser|Beton|Harz|Pascal|Newton|Watt|Volt|"
    r"Celsius|Drain|Tank|Water|Concrete|Steel|Sleeve|Shaft|Test|Round|Visit|Core|Sample|Grade|Wohnung|Haus)\b)"
)
_TOWN = rf"{NO_TRADE}[A-ZÀ-ÖØ-ÞĀ-Ž](?:[a-zß-öø-ÿā-ž]|[A-ZÀ-ÖØ-ÞĀ-Ž]{{3}})[\w'’-]+"
_NAME = rf"(?:St\.?\s)?{NO_TRADE}{_CAP}"
_HOUSE = r"\d{1,5}\s?[a-zA-Z]?(?:\s?[-/]\s?\d{1,5}[a-z]?)?\b" + NO_UNIT
_OF = r"(?:(?:de|du|des|del|della|dei|di|da|la|las|los|les|le|el)\s+|l['’]|d['’])*"
_STREET = (
    r"(?:[Ss]treet|[Rr]oad|[Aa]venue|[Ll]ane|[Bb]oulevard|[Cc]rescent|[Mm]ews|[Hh]ighway|"
    r"(?:St|Rd|Ave|Ln|Blvd)\b\.?)"
)
_NUMBERED = (
    r"(?:[Dd]rive|Dr\b\.?|[Cc]lose|[Cc]ourt|Ct\b\.?|[Ss]quare|[Tt]errace|[Pp]lace|[Ww]ay|"
    r"[Gg]ardens|Row|Hill|Walk|Quay|Grove|Parade)"
)
_STATE = (
    r"(?:A[LKZR]|C[AOT]|D[EC]|FL|GA|HI|I[DLNA]|K[SY]|LA|M[EDAINSOT]|N[EVHJMYCD]|O[HKR]|PA|RI|S[CD]|"
    r"T[NX]|UT|V[TA]|W[AVIY])"
)
_BIS = r"\d{1,4}\s?(?:bis|ter)?"
_NUMBER = r"(?:,?\s*(?:[Nn][.º°r]+\s?)?" + _HOUSE + ")"
_MINUTES = (
    r"\d{1,3}\s?[°º]\s?\d{1,2}(?:[.,]\d+)?\s?['′’](?:\s?\d{1,2}(?:[.,]\d+)?\s?(?:[\"″”]|''))?"
)

MAPS: Final = patterns(
    "coordinates",
    r"(?i:\bhttps?://[^\s<>\"\[\]]*(?:maps?|geo)\b[^\s<>\"\[\]]*)",
    r"(?i:\bhttps?://[^\s<>\"\[\]]*\d{1,3}\.\d{3,}[,/]-?\d{1,3}\.\d{3,}[^\s<>\"\[\]]*)",
    r"(?i:\bgeo:[-\d.,;]+)",
    r"(?<!\S)/{2,3}[a-z]+\.[a-z]+\.[a-z]+\b",
)
COORDINATES: Final = patterns(
    "coordinates",
    r"(?<![\w.,])[-+]?(?:\d{1,2}[.,]\d{4,}|\d{3}[.,]\d{5,})\s?°?\s?[NS]?\s?[,;/\s]\s?"
    r"[-+]?\d{1,3}[.,]\d{4,}(?:\s?°)?(?:\s?[EWO]\b)?",
    r"(?<![\w.,])\d{1,2}[.,]\d+\s?°?\s?[NS]\b[,;/\s]*\d{1,3}[.,]\d+\s?°?\s?[EWO]\b",
    r"\b[NS]\s?\d{1,2}[.,°]\s?\d[\d.,°'′’\"″”\s]*[EWO]\s?\d{1,3}[.,°]\s?\d[\d.,'′’\"″”]*°?",
    rf"(?<![\w.,]){_MINUTES}\s?[NSEWO]\b(?:[,;/\s]*{_MINUTES}\s?[NSEWO]\b)?",
    r"(?<![\w.,])\d{1,3}[.,]\d+\s?°\s?[NSEWO]\b",
    r"(?i:\b(?:lat|latitude|lon|lng|longitude)\s?[:=]?\s?[-+]?\d{1,3}[.,]\d{2,})",
    r"\b(?:UTM\s*)?\d{1,2}\s?[C-HJ-NP-X]\s+\d{6,7}(?:[.,]\d+)?\s?(?:m?E)?"
    r"[,;\s]+\d{7}(?:[.,]\d+)?(?:\s?m?N\b)?",
    r"\b(?:[Ee]asting|[Nn]orthing|Rechtswert|Hochwert|[ENRH])\s?[:=]?\s?\d{6,7}(?:[.,]\d+)?\b",
    r"\b\d{1,2}[C-HJ-NP-X][A-HJ-NP-Z]{2}\s?\d{4,5}\s?\d{4,5}\b",
    r"\b[HNOST][A-HJ-Z]\s?\d{3,5}\s\d{3,5}\b",
    r"\b[2-9CFGHJMPQRVWX]{4,8}\+[2-9CFGHJMPQRVWX]{2,3}\b",
)
STREETS: Final = patterns(
    "street-address",
    # English.
    rf"(?:\b{_HOUSE},?\s+)?(?:{_NAME}\s+){{1,3}}{_STREET}(?!\w)(?:\s+{_HOUSE})?",
    rf"\b{_HOUSE},?\s+(?:{_NAME}\s+){{1,3}}{_NUMBERED}(?!\w)",
    rf"\b{_HOUSE},?\s+"
    r"(?:(?!(?:from|the|off|below|under|near|and|along|this|that|our)\b)[a-z'’]{3,}\s+){1,2}"
    r"(?:street|road|avenue|lane|boulevard|crescent|drive|close|terrace)\b",
    r"(?i:\bP\.?\s?O\.?\s?Box\s+\d+|\bPostfach\s+\d[\d ]*\b)",
    r"(?i:\b(?:flat|apt\.?|apartment|whg\.?|wohnung)\s+\d+\s?[a-z]?\b)" + NO_UNIT,
    # German.
    rf"(?<![\w-])[\w-]{{3,}}(?i:stra(?:ß|ss)e|str\.|gasse|allee|chaussee)(?:\s+{_HOUSE})?",
    rf"\b{NO_TRADE}[A-ZÄÖÜ][\wäöüß-]{{2,}}(?:weg|platz|damm|ufer|steig)\s+{_HOUSE}",
    rf"\b{_CAP}\s+(?:Straße|Strasse|Str\.|Platz|Allee|Weg|Ufer|Damm|Chaussee)\s+{_HOUSE}",
    rf"\b(?:Am|Zum|Zur|An der|Auf der|Hinter der|Unter den)\s+{_NAME}(?:\s+{_NAME})?\s+{_HOUSE}",
    # French.
    rf"(?:\b{_BIS},?\s+)?\b(?i:rue|avenue|boulevard|bd\.?|chemin|impasse|allée|quai)\s+"
    rf"{_OF}{_NAME}(?:[\s-]{_NAME}){{0,3}}",
    rf"\b{_BIS},?\s+(?i:av\.|place|route|square|cours|passage|faubourg)\s+"
    rf"{_OF}{_NAME}(?:[\s-]{_NAME}){{0,3}}",
    # Spanish, Italian.
    rf"\b(?i:calle|c/|avda\.?|avenida|plaza|paseo|carrer|ronda|travesía)\s*"
    rf"{_OF}{_NAME}(?:\s+{_OF}{_NAME}){{0,3}}{_NUMBER}?",
    rf"\b(?:Via|(?i:viale|piazza|piazzale|corso|vicolo))\s+"
    rf"{_OF}{_NAME}(?:\s+{_OF}{_NAME}){{0,3}}{_NUMBER}?",
    rf"\bvia\s+{_OF}{_NAME}(?:\s+{_NAME}){{0,2}}{_NUMBER}",
    # Dutch.
    rf"\b[A-Z][\w'-]*(?:straat|laan|gracht|plein|kade|singel)\b(?:\s+{_HOUSE})?",
    rf"\b{NO_TRADE}[A-Z][\w'-]*(?:dijk|steeg|hof|dreef)\s+{_HOUSE}",
    # Polish, Czech.
    r"\b(?i:ul\.|ulic[aeiy]|al\.|ale(?:ja|ję|i)|pl\.|placu?|os\.|osiedl[eu]|náměstí|nám\.|tříd[aěy]|"
    rf"tř\.|nábřeží|nábř\.)\s*{_NAME}(?:\s+{_NAME}){{0,3}}(?:\s+{_HOUSE})?",
    rf"\b{_NAME}(?:ova|sk[áé]|ck[áé]|ní|á)\s+\d{{1,4}}(?:/\d{{1,4}}[a-z]?)?\b{NO_UNIT}",
)
POSTCODES: Final = patterns(
    "postcode-and-town",
    rf"(?<![\w.,-])(?<![A-Z] )(?:[A-Z]{{1,2}}-)?\d{{5}}\s+{_TOWN}(?:[\s-]{_TOWN}){{0,2}}"
    r"(?:\s\([A-Z]{2}\))?",
    rf"(?<![\w.,-])(?<![A-Z] )(?:[A-Z]{{1,2}}-)?(?!19|20)[1-9]\d{{3}}\s+{_TOWN}(?:[\s-]{_TOWN})?",
    rf"(?<![\w.,-])\d{{3}}\s\d{{2}}\s+{_TOWN}(?:\s{_TOWN})?(?:\s\d{{1,2}}\b)?",
    rf"(?<![\w.,-])\d{{2}}-\d{{3}}\s+{_TOWN}(?:[\s-]{_TOWN})?",
    rf"(?<![\w.,-])\d{{4}}-\d{{3}}\s+{_TOWN}(?:\s{_TOWN})?",
    rf"(?<![\w.,-])\d{{4}}\s?[A-Z]{{2}}\s+{_TOWN}(?:\s{_TOWN})?",
    rf"(?:\b{_TOWN},?\s+)?\b[A-Z]{{1,2}}\d[A-Z\d]?\s?\d[A-Z]{{2}}\b",
    rf"\b{_TOWN}(?:\s{_TOWN})?,?\s+{_STATE}\s+\d{{5}}(?:-\d{{4}})?\b",
    rf"\b{_TOWN}(?:\s{_TOWN})?,?\s+(?:[A-Z]{{2}}\s+)?[A-Z]\d[A-Z]\s?\d[A-Z]\d\b",
)
