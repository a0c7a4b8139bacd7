"""The table of an invented firm, with its own columns and words, and the mapping for it."""

from advisor import open_knowledge
from advisor.library.moves.csv_in import Read, read_csv
from advisor.library.moves.mapping import ColumnMapping, parse_mapping

KNOWLEDGE = open_knowledge()
KEY = b"an invented key of 32 bytes, yes"

HEADER = "Nummer;Stelle;Bauwerk;Tag;Ursache;Woher;Dazu;Arbeit;Fertig;Schau;Befund;Wasser;Riss;Notiz"
FIRST = (
    "A-17;1;Keller;16.04.2031;kalte Fuge;geöffnet;Regen;Harz;20.04.2031;"
    "20.05.2031;dicht;ja;0,3;Frau Erfunden rief an"
)
SECOND = "A-17;2;Keller;16.04.2031;;;;;;;;;unter 0.2 mm;"
THIRD = "A-18;1;Tank;2.1.2031;offen;geöffnet;;Harz, Mörtel;;;;;;"
TABLE = f"{HEADER}\n{FIRST}\n{SECOND}\n"

MAPPING = """# Of an invented firm.
dates: DD.MM.YYYY
columns:
  Nummer: case
  Stelle: place
  Bauwerk: kind
  Tag: date
  Ursache: cause
  Woher: confirmed-how
  Dazu: contributors
  Arbeit: method
  Fertig: done
  Schau: look-1
  Befund: look-1-state
  Wasser: look-1-water-up
  Riss: finding.crack-width
leave: [Notiz]
units: {finding.crack-width: mm}
words:
  kind: {Keller: basement, Tank: tank}
  cause: {kalte Fuge: cold-joint, offen: unknown}
  confirmed-how: {geöffnet: opened and seen}
  contributors: {Regen: risen-water}
  method: {Harz: elastic-resin-injection}
  look-1-state: {dicht: tight}
  look-1-water-up: {ja: yes}
  finding.crack-width: {unter 0.2 mm: under 0.2 mm}
"""


def mapping(text: str = MAPPING) -> ColumnMapping:
    return parse_mapping(text, "firm.yaml", KNOWLEDGE)


FIRM = mapping()


def read(
    table: str | bytes = TABLE, how: ColumnMapping | None = FIRM, file: str = "firm.csv"
) -> Read:
    data = table.encode() if isinstance(table, str) else table
    return read_csv(data, file, KNOWLEDGE, how, key=KEY, origin="from-records")


def told(read: Read) -> list[str]:
    return [str(problem) for problem in read.refused]
